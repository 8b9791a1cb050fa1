import { JournalFile } from '../../electron/files/journal-file.ts';

/** Appends numbered lines to the journal named until it is killed; prints each number once it is on disk. */
const filler = 'x'.repeat(2000);
const journal = await JournalFile.create(process.argv[2] ?? '', `0 ${filler}\n`);
process.stdout.write('0\n');
for (let line = 1; ; line += 1) {
  await journal.append(`${line} ${filler}\n`);
  process.stdout.write(`${line}\n`);
}
