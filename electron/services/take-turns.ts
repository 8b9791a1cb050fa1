/** Runs one thing after the other: whoever comes while one runs waits its turn. */
export class Turns {
  private last: Promise<unknown> = Promise.resolve();

  take<Value>(work: () => Promise<Value>): Promise<Value> {
    const mine = this.last.then(work);
    // What went wrong is told to whoever asked, not to the next in line.
    this.last = mine.catch(() => undefined);
    return mine;
  }
}
