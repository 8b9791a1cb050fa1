import type { BlobFile } from '../../shared-core/contract/calls.ts';

/** Hands a file to the browser to save. */
export function saveFile({ bytes, type, name }: BlobFile): void {
  const address = URL.createObjectURL(new Blob([new Uint8Array(bytes)], { type }));
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
  // Long enough for the browser to have taken it.
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}
