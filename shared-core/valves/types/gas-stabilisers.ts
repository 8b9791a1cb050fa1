import { noHeater, otherPins } from '../build-type.ts';
import { american, memory, read, unverified } from '../sources.ts';
import { ratings, type StabiliserLimits, type ValveType } from '../valve-type.ts';

const amps = [5e-3, 30e-3] as const;

/** Middle of the range of currents: where the published voltage is taken to hold. */
const middleAmps = (amps[0] + amps[1]) / 2;

interface GasFigures {
  readonly name: string;
  readonly synonyms: readonly string[];
  readonly volts: number;
  readonly limits: StabiliserLimits;
}

/** Both differ in voltages only. Neither is the octal 0A3 (75 V) or 0D3 (150 V), as one encyclopedia has it. */
function gasStabiliser({ name, synonyms, volts, limits }: GasFigures): ValveType {
  const [typical, most] = limits.regulationVolts;
  return {
    name,
    synonyms,
    title: `gas-filled stabiliser, ${volts} V`,
    base: 'B7G',
    sections: [
      {
        name: '',
        device: 'gas-stabiliser',
        pins: { anode: 1, cathode: 2 },
        parameters: {
          regulatedVolts: volts,
          regulatedAmps: middleAmps,
          slopeOhms: typical / (amps[1] - amps[0]),
          strikingVolts: limits.strikingVolts,
        },
        parameterSource: memory(`${american}; slope: regulation over 5 to 30 mA`),
      },
    ],
    otherPins: [
      { pin: 5, role: 'second anode', joinTo: null },
      { pin: 4, role: 'second cathode', joinTo: null },
      { pin: 7, role: 'second cathode', joinTo: null },
      ...otherPins('internal', 3, 6),
    ],
    joinedPins: [
      [1, 5],
      [2, 4, 7],
    ],
    pinSource: memory(american),
    heater: noHeater(memory(american)),
    ratings: ratings('absolute', read('5–30 mA: encyclopedia'), {
      leastAnodeAmps: amps[0],
      mostAnodeAmps: amps[1],
    }),
    characteristics: [
      { anodeVolts: volts, gridVolts: 0, anodeAmps: middleAmps, source: memory(american) },
      {
        anodeVolts: volts + typical / 2,
        gridVolts: 0,
        anodeAmps: amps[1],
        source: memory(`${american}; half of the typical regulation above the middle`),
      },
    ],
    operations: [],
    charts: [],
    spread: {
      low: limits.regulatedVolts[0] / volts - 1,
      high: limits.regulatedVolts[1] / volts - 1,
      source: unverified(`${american}: ${limits.regulatedVolts.join('–')} V from valve to valve`),
    },
    modelRegions: [
      {
        what: 'glowing, 5 to 30 mA',
        anodeVolts: limits.regulatedVolts,
        anodeAmps: amps,
        // From typical to the maker's limit counts as two sigma.
        relativeSigma: Math.log(most / typical) / 2,
        source: unverified(`${american}: regulation ${typical} V typical, ${most} V at most`),
      },
    ],
    rectifier: null,
    stabiliser: limits,
  };
}

const common = {
  amps,
  startAmps: 75e-3,
  maxFarads: 0.1e-6,
  source: `${memory(american)}; limits of voltage and regulation to be verified`,
};

export const oa2 = gasStabiliser({
  name: 'OA2',
  synonyms: ['0A2'],
  volts: 150,
  limits: { ...common, regulatedVolts: [144, 164], strikingVolts: 185, regulationVolts: [2, 6] },
});

export const ob2 = gasStabiliser({
  name: 'OB2',
  synonyms: ['0B2'],
  volts: 108,
  limits: { ...common, regulatedVolts: [106, 114], strikingVolts: 133, regulationVolts: [1, 4] },
});
