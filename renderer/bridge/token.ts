const key = 'kitwright-token';

/** What `takeToken` needs of a page. */
export interface TokenPage {
  readonly location: { readonly hash: string; readonly pathname: string };
  readonly history: { replaceState(data: null, unused: string, url: string): void };
  readonly sessionStorage: { getItem(key: string): string | null; setItem(key: string, value: string): void };
}

/**
 * Takes the host's token out of the address and keeps it for this tab only.
 *
 * A fragment is never sent to a server, and after this it is not in the history either. A kit that the host was
 * asked to open stays there as a view.
 */
export function takeToken({ location, history, sessionStorage }: TokenPage): string {
  const fields = new URLSearchParams(location.hash.slice(1));
  const given = fields.get('token');
  if (given !== null) {
    sessionStorage.setItem(key, given);
    const kit = fields.get('open');
    const view = kit === null ? '' : `#kit/${encodeURIComponent(kit)}`;
    history.replaceState(null, '', `${location.pathname}${view}`);
  }
  return sessionStorage.getItem(key) ?? '';
}
