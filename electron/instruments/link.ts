import type { Result } from '../../shared-core/problem/problem.ts';

/** An open line to an instrument. */
export interface Link {
  readonly write: (text: string) => void;
  readonly close: () => void;
}

/** Told what comes over a link. */
export interface LinkHearer {
  readonly text: (piece: string) => void;
  /** The other end is gone: unplugged, switched off, refused. Told once, and never after `close`. */
  readonly ended: () => void;
}

/** Opens a link; how depends on the address. */
export type OpenLink<Address> = (address: Address, hearer: LinkHearer) => Promise<Result<Link>>;
