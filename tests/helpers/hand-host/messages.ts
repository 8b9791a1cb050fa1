/** What a test tells its host, over the channel of a child process. */
export type HostCommand =
  /** Time passes as it does, with its heartbeats, in milliseconds (ms). */
  | { readonly kind: 'pass'; readonly id: number; readonly milliseconds: number }
  /** The wall clock alone moves: sleep on most machines, or a clock that was set, in milliseconds (ms). */
  | { readonly kind: 'jump'; readonly id: number; readonly milliseconds: number }
  | { readonly kind: 'close'; readonly id: number };

/** What the host answers. */
export type HostAnswer =
  | { readonly kind: 'ready'; readonly url: string; readonly port: number; readonly token: string }
  | { readonly kind: 'done'; readonly id: number; readonly at: string }
  /** A fault of our own inside the host. */
  | { readonly kind: 'fault'; readonly message: string };

/** What the host is started with, as its one argument in JSON. */
export interface HostStart {
  readonly dataFolder: string;
  /** Wall time at the start, UTC. */
  readonly startAt: string;
}
