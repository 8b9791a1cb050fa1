/** The pages of a build. */
export const buildPages = [
  'walk',
  'bench',
  'readings',
  'glance',
  'stores',
  'gate',
  'causes',
  'repair',
  'fit',
  'notes',
  'report',
  'ask',
] as const;
export type BuildPage = (typeof buildPages)[number];

/** What is on the screen; mirrored to the address, so that a reload comes back to it. */
export type View =
  | { readonly kind: 'shelf' }
  | { readonly kind: 'kit'; readonly path: string }
  /** Another valve for a kit that is not being built. */
  | { readonly kind: 'fit'; readonly path: string }
  | { readonly kind: 'build'; readonly build: string; readonly page: BuildPage }
  | { readonly kind: 'record' }
  | { readonly kind: 'settings' };

/** A view as a fragment. */
export function hashOf(view: View): string {
  switch (view.kind) {
    case 'kit':
    case 'fit':
      return `#${view.kind}/${encodeURIComponent(view.path)}`;
    case 'build':
      return `#build/${encodeURIComponent(view.build)}/${view.page}`;
    default:
      return `#${view.kind}`;
  }
}

/** The view that a fragment stands for; the shelf for anything that is not one. */
export function viewOf(hash: string): View {
  const [kind = '', first = '', page = 'walk'] = hash.replace(/^#\/?/, '').split('/');
  const name = decode(first);
  if (kind === 'settings') return { kind };
  if ((kind === 'kit' || kind === 'fit') && name !== '') return { kind, path: name };
  if (kind === 'build' && name !== '') {
    return { kind, build: name, page: buildPages.find((each) => each === page) ?? 'walk' };
  }
  // A record is held by this tab only: after a reload there is none.
  return { kind: 'shelf' };
}

function decode(text: string): string {
  try {
    return decodeURIComponent(text);
  } catch {
    return '';
  }
}
