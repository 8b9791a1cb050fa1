import { open } from 'node:fs/promises';
import { dirname } from 'node:path';
import writeFileAtomic from 'write-file-atomic';

/**
 * Replaces a whole file so that a crash leaves the old content or the new, never a mixture.
 *
 * The folder is flushed too: without that the new name can be lost with the power.
 *
 * @param mode Permissions of the file; 0o600 for what others on the machine must not read.
 */
export async function replaceFile(path: string, content: string | Uint8Array, mode?: number): Promise<void> {
  const data = typeof content === 'string' ? content : Buffer.from(content);
  await writeFileAtomic(path, data, mode === undefined ? {} : { mode });
  await flushFolder(dirname(path));
}

/** Makes names created, renamed or removed in a folder last through a power cut, where the system can. */
export async function flushFolder(path: string): Promise<void> {
  // Windows cannot open a folder; its file systems keep names by themselves.
  if (process.platform === 'win32') return;
  const folder = await open(path, 'r');
  try {
    await folder.sync();
  } finally {
    await folder.close();
  }
}
