/**
 * A seeded slice of `npm run study -- reference`.
 *
 * Source: ngspice 45.2, the WASM build in the npm package eecircuit-engine 1.8.0, `.op` at reltol 1e-6, vntol 1e-8,
 * abstol 1e-14, itl1 300, with 1e12 Ω from every net to the reference, from the sound circuit's voltages by `.nodeset`;
 * where that differs, again at reltol 1e-9 from our own. `.ac lin 1` at 20 Hz, 1 kHz and 20 kHz.
 */
import { afterAll, describe, expect, it } from 'vitest';
import { devices } from '../../shared-core/devices/index.ts';
import { Simulator } from '../helpers/simulator.ts';
import { studyCircuits } from '../reference/circuits/study-circuits.ts';
import { comparePoints } from './reference/compare-points.ts';
import { compareSignals } from './reference/compare-signals.ts';
import { runStress } from './reference/stress.ts';
import { circuitSubjects } from './reference/subjects.ts';

/** One case in so many is compared here; the study takes all. */
const every = 13;

describe('a slice of the study against the reference simulator', { timeout: 120_000 }, () => {
  const simulator = new Simulator();
  afterAll(() => simulator.close());
  const subjects = circuitSubjects();

  it('has every device in some circuit, and twenty circuits or more', () => {
    const used = new Set(studyCircuits.flatMap(({ of }) => of.elements.map(({ device }) => device.name)));
    expect(devices.map(({ name }) => name).filter((name) => !used.has(name))).toEqual([]);
    expect(studyCircuits.length).toBeGreaterThanOrEqual(20);
  });

  it.each(subjects.map((subject, place) => ({ subject, place, title: subject.group })))(
    'agrees nominal, scattered and with single faults: $title',
    async ({ subject, place }) => {
      const figures = await comparePoints(simulator, subject, 4, (index) => index % every === place % every);
      expect(figures.unlike).toEqual([]);
      expect([...figures.unsolved, ...figures.stepped, ...figures.noAnswer]).toEqual([]);
      expect(figures.cases).toBeGreaterThanOrEqual(2);
      expect(figures.nominalIterations).toBeLessThanOrEqual(8);
      expect(figures.faultIterations, figures.slowestFault).toBeLessThanOrEqual(30);
      expect(figures.residualAmps).toBeLessThan(1e-9);
      const signals = await compareSignals(simulator, subject);
      expect(signals!.decibels, signals!.worst).toBeLessThan(1e-3);
      expect(signals!.compared).toBeGreaterThan(0);
    },
  );

  it('solves scattered circuits with up to three faults', () => {
    const { unsolved, residualAmps } = runStress(subjects, 420);
    expect(unsolved).toEqual([]);
    expect(residualAmps).toBeLessThan(1e-9);
  });
});
