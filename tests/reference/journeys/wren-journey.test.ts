import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { newFolder, removeFolders } from '../../helpers/folders.ts';
import { readPdfWith } from '../../helpers/pdf-text.ts';
import { readingsOff, wholeJourney } from '../../helpers/whole-journey.ts';
import { journeys } from '../../study/journeys-report.ts';

afterAll(removeFolders);

/** The first choice; `npm run study -- journeys` walks the others and Curlew. */
describe.each(journeys.filter(({ kit }) => kit === 'wren').slice(0, 1))('$kit with $choices', (journey) => {
  test('goes from loose parts to its signed report, every reading as expected', async () => {
    const { view, together, report } = await wholeJourney(journey);
    expect(view.currentStep).toBeNull();
    expect(readingsOff(view)).toEqual([]);
    expect(Object.keys(view.build.readings)).toHaveLength(view.kit.readings.length);
    expect(together).toMatch(/ are as a healthy amplifier’s\.$/);
    const path = join(newFolder('kitwright-report-'), 'report.pdf');
    writeFileSync(path, report);
    const text = readPdfWith('pdftotext', '-layout', path, '-');
    const steps = view.facts.steps.length;
    expect(text).toContain(`${steps} of ${steps} done in the app`);
    expect(text).toContain('Signed in the app: J. M.');
  }, 600_000);
});
