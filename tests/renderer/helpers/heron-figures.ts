import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, readdirSync, renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { predictBands } from '../../../shared-core/bands/predict-bands.ts';
import { SampleBook } from '../../../shared-core/bands/sample-book.ts';
import { plainBench } from '../../../shared-core/prediction/bench.ts';
import { predictDrain } from '../../../shared-core/prediction/predict-drain.ts';
import type { ConditionPrediction } from '../../../shared-core/prediction/prediction.ts';
import { deriveFacts } from '../../../shared-core/safety/derive-facts.ts';
import type { SafetyFacts } from '../../../shared-core/safety/facts.ts';
import { heronFile, heronKit } from './heron-kit.ts';

/** What the engine makes of Heron on the plain bench. */
export interface Figures {
  readonly facts: SafetyFacts;
  readonly predictions: readonly ConditionPrediction[];
}

const root = join(import.meta.dirname, '../../..');

/** Draws for a band: far fewer than the app takes, since screens show bands and judge none. */
const draws = 400;

/**
 * The figures, computed once for each state of core and kit.
 *
 * Every test file of the screens needs them, and each runs by itself: they are kept in build/, under a name that
 * changes with any source that they depend on.
 */
export function heronFigures(): Figures {
  const folder = join(root, 'build/test-figures');
  const path = join(folder, `heron-${hashOfSources()}.json`);
  if (existsSync(path)) return JSON.parse(readFileSync(path, 'utf8')) as Figures;
  const figures = compute();
  mkdirSync(folder, { recursive: true });
  // Two test files may write at once: each writes its own file, and the last one to finish stays.
  writeFileSync(`${path}.${process.pid}`, JSON.stringify(figures));
  renameSync(`${path}.${process.pid}`, path);
  return figures;
}

function compute(): Figures {
  const basis = { chosen: heronKit, bench: plainBench, fitted: { measured: {}, valves: {} } };
  const book = new SampleBook(1, draws);
  const predictions = heronKit.conditions.flatMap(
    ({ id }) => predictBands(heronKit, id, basis.bench, basis.fitted, book) ?? [],
  );
  const drain = predictDrain(heronKit, basis.bench, basis.fitted);
  return { facts: deriveFacts({ ...basis, kitHash: 'heron-test', predictions, drain }), predictions };
}

function hashOfSources(): string {
  const hash = createHash('sha256')
    .update(readFileSync(heronFile))
    .update(readFileSync(import.meta.filename));
  const core = join(root, 'shared-core');
  const files = readdirSync(core, { recursive: true, encoding: 'utf8' }).filter((name) =>
    name.endsWith('.ts'),
  );
  for (const name of files.toSorted()) hash.update(name).update(readFileSync(join(core, name)));
  return hash.digest('hex').slice(0, 16);
}
