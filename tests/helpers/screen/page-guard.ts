import type { Page } from '@playwright/test';

/** What a page may never do: leave this machine, or find fault with itself. */
export class PageGuard {
  readonly faults: string[] = [];
  private isHostAway = false;

  watch(page: Page): void {
    page.on('request', (request) => {
      if (!/^(http:\/\/127\.0\.0\.1:\d+\/|blob:|data:)/.test(request.url()))
        this.faults.push(`request to ${request.url()}`);
    });
    page.on('pageerror', (error) => this.faults.push(`page error: ${error.stack ?? error.message}`));
    // Breaches of the content policy are told on the console too.
    page.on('console', (message) => {
      if (message.type() !== 'error') return;
      const isOfSilence = this.isHostAway && /net::ERR_/.test(message.text());
      if (!isOfSilence) this.faults.push(`console: ${message.text()} ${message.location().url}`);
    });
  }

  /** While the host is away the browser says on its console that nobody answers; nothing else is forgiven. */
  setHostAway(isAway: boolean): void {
    this.isHostAway = isAway;
  }
}
