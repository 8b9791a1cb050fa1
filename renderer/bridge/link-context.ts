import { createContext, useContext } from 'react';
import { useStore } from 'zustand';
import type { Link, LinkState } from './link.ts';

export const LinkContext = createContext<Link | null>(null);

/** The connection to the host. */
export function useLink(): Link {
  const link = useContext(LinkContext);
  if (link === null) throw new Error('No link: the screen is not inside LinkContext');
  return link;
}

/** A piece of what the screens show. */
export function useShown<Piece>(select: (state: LinkState) => Piece): Piece {
  return useStore(useLink().store, select);
}
