import type { Link, LinkHearer } from './link.ts';

/** What came of a question. */
export type ScpiReply =
  | { readonly kind: 'line'; readonly text: string }
  /** No answer in time. It may still come: the next line is not the answer to the next question. */
  | { readonly kind: 'silent' }
  /** Unplugged, or switched off. */
  | { readonly kind: 'ended' };

/** Longest line that an instrument may send, in characters; what is longer is thrown away. */
const longestLine = 4096;

/** Most lines kept that nobody asked for: an instrument that talks by itself must not fill the memory. */
const mostLines = 64;

/**
 * Lines to and from an instrument: one question, one answer.
 *
 * Questions only: nothing is ever set, and the front panel stays the builder's. Whoever asks waits for the
 * answer before asking again.
 */
export class ScpiSession implements LinkHearer {
  private link: Link | null = null;
  private rest = '';
  private lines: string[] = [];
  private wake: (() => void) | null = null;
  private isEnded = false;

  start(link: Link): void {
    this.link = link;
  }

  /** The other end is gone: nothing more will come. */
  get isOver(): boolean {
    return this.isEnded;
  }

  text(piece: string): void {
    const parts = (this.rest + piece).split('\n');
    this.rest = parts.pop() ?? '';
    if (this.rest.length > longestLine) this.rest = '';
    const whole = parts.filter((line) => line.length <= longestLine).map((line) => line.replace(/\r$/, ''));
    this.lines = [...this.lines, ...whole].slice(-mostLines);
    if (whole.length > 0) this.wake?.();
  }

  ended(): void {
    this.isEnded = true;
    this.wake?.();
  }

  /** Asks after throwing away what came unasked. */
  ask(question: string, waitMs: number): Promise<ScpiReply> {
    this.lines = [];
    if (!this.isEnded) this.link?.write(`${question}\n`);
    return this.next(waitMs);
  }

  /** The next line. */
  async next(waitMs: number): Promise<ScpiReply> {
    if (this.lines.length === 0 && !this.isEnded) await this.something(waitMs);
    const text = this.lines.shift();
    if (text !== undefined) return { kind: 'line', text };
    return { kind: this.isEnded ? 'ended' : 'silent' };
  }

  close(): void {
    this.isEnded = true;
    this.link?.close();
    this.wake?.();
  }

  private something(waitMs: number): Promise<void> {
    return new Promise((resolve) => {
      const timer = setTimeout(resolve, waitMs);
      this.wake = () => {
        clearTimeout(timer);
        resolve();
      };
    });
  }
}
