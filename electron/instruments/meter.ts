import type { KitProblem, Result } from '../../shared-core/problem/problem.ts';
import { fail, succeed } from '../../shared-core/problem/problem.ts';
import { meterOffer } from '../../shared-core/units/meter-offer.ts';
import type { MeterOffer } from '../../shared-core/units/meter-offer.ts';
import { readMeterSetting } from '../../shared-core/units/scpi-function.ts';
import type { MeterFunction, MeterSetting } from '../../shared-core/units/scpi-function.ts';
import { readScpiIdentity } from '../../shared-core/units/scpi-identity.ts';
import type { ScpiSession } from './scpi-session.ts';

/** How long an instrument may take, in milliseconds (ms). */
export interface MeterWaits {
  /** To say who it is, or what it is set to. */
  readonly settingMs: number;
  /** To measure: slow ranges at 100 power-line cycles take 2 s at 50 Hz, automatic ranging several of them. */
  readonly readingMs: number;
}

export const usualWaits: MeterWaits = { settingMs: 1500, readingMs: 8000 };

/** A number from a meter, with what belongs to it. */
export interface MeterLook extends MeterOffer {
  /** As sent. */
  readonly reply: string;
  readonly setting: MeterSetting;
}

/** The questions for a meter's function and range; the first one also tells the range. */
const settingQuestions = ['CONF?', 'FUNC?'] as const;

/** A meter on an open line. Asks only; never sets anything. */
export class Meter {
  readonly session: ScpiSession;
  private readonly waits: MeterWaits;
  /** The question that this meter knows; null before it was found out. */
  private settingQuestion: (typeof settingQuestions)[number] | null = null;
  /** Its answer to `*IDN?`; null before it gave one. */
  private identity: string | null = null;

  constructor(session: ScpiSession, waits: MeterWaits = usualWaits) {
    this.session = session;
    this.waits = waits;
  }

  /**
   * Asks who it is, and reads over whatever older answers come before.
   *
   * Two tries: what was in the instrument's input before the first line end may spoil the first one.
   */
  async identify(waitMs = this.waits.settingMs): Promise<Result<string>> {
    for (let tries = 0; tries < 2; tries += 1) {
      let reply = await this.session.ask('*IDN?', waitMs);
      while (reply.kind === 'line') {
        if (this.isIdentity(reply.text)) {
          this.identity = reply.text.trim();
          return succeed(this.identity);
        }
        reply = await this.session.next(waitMs);
      }
      if (reply.kind === 'ended') return fail(unplugged);
    }
    return fail(noAnswer('*IDN?', waitMs));
  }

  /**
   * The number on the meter for a reading; a problem where there is none that fits it.
   *
   * After `instrument/no-answer` the answer may still come: whoever asked lets the line go, and opens it anew.
   */
  async look(wanted: MeterFunction): Promise<Result<MeterLook>> {
    const before = await this.setting();
    if (!before.ok) return before;
    if (before.value.function !== wanted) return ofOther(wanted, before.value);
    const reply = await this.session.ask('READ?', this.waits.readingMs);
    if (reply.kind === 'ended') return fail(unplugged);
    if (reply.kind === 'silent') return fail(noAnswer('READ?', this.waits.readingMs));
    const after = await this.setting();
    if (!after.ok) return after;
    const offer = meterOffer(wanted, after.value, reply.text);
    return offer.ok ? succeed({ ...offer.value, reply: reply.text.trim(), setting: after.value }) : offer;
  }

  /** What it is set to, by the first question that it knows. */
  private async setting(): Promise<Result<MeterSetting>> {
    const questions = this.settingQuestion === null ? settingQuestions : [this.settingQuestion];
    for (const question of questions) {
      const reply = await this.session.ask(question, this.waits.settingMs);
      if (reply.kind === 'ended') return fail(unplugged);
      if (reply.kind === 'line') {
        const setting = readMeterSetting(reply.text);
        if (setting !== null) {
          this.settingQuestion = question;
          return succeed(setting);
        }
        continue;
      }
      // It may not know the question, or be gone: who it is tells which, and clears the line.
      const there = await this.identify();
      if (!there.ok) return there;
    }
    return fail(noSetting);
  }

  /** Its own words from before, where they are known; else anything of the right form. */
  private isIdentity(text: string): boolean {
    return this.identity === null ? readScpiIdentity(text) !== null : text.trim() === this.identity;
  }
}

/** Without a number: what it is set to is all that has to be told. */
function ofOther(wanted: MeterFunction, setting: MeterSetting): Result<never> {
  const offer = meterOffer(wanted, setting, '');
  return offer.ok ? fail(noSetting) : offer;
}

/** Unplugged, or switched off, while it was asked. */
const unplugged: KitProblem = {
  code: 'instrument/unplugged',
  severity: 'error',
  message: 'The meter is gone: its cable was unplugged, or it was switched off',
  hint: 'Plug it in again and it is found by itself, or type the reading.',
};

function noAnswer(question: string, waitMs: number): KitProblem {
  return {
    code: 'instrument/no-answer',
    severity: 'error',
    message: `The meter did not answer ${question} within ${waitMs / 1000} s`,
    hint: 'Look at its display, its cable, and the speed it is set to. You can always type the reading.',
  };
}

const noSetting: KitProblem = {
  code: 'instrument/not-understood',
  severity: 'error',
  message: 'The meter does not say whether it is set to volts or ohms',
  hint: 'Without that a number may be of another function: type the reading.',
};
