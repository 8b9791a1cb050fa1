import type { Bench } from '../../shared-core/prediction/bench.ts';
import type { Hand } from './hand.ts';
import { InventedMeter } from './invented-meter.ts';
import { Walk } from './walk.ts';
import type { Plot } from './walk.ts';

/** The seed of every invented figure. */
const seed = 1947;

const bench: Bench = {
  mains: { volts: 234, hertz: 50, source: 'measured' },
  meter: {
    label: 'pocket meter, four figures',
    input: { kind: 'fixed', ohms: 10e6 },
    accuracy: { dcVolts: 0.008, acVolts: 0.012, ohms: 0.01 },
    ratedVolts: 1000,
    category: 'CAT III',
  },
  leads: { ratedVolts: 1000, ohms: 0.15 },
  lampWatts: 60,
  batteryVolts: 9,
  hasInsulationTester: false,
};

const valves = {
  V1: { type: 'ECC83', brand: 'Heronsgate', dateCode: '2418', stock: 'new', label: 'A1' },
  V2: { type: 'EL84', brand: 'Heronsgate', dateCode: '2502', stock: 'new', label: 'B4' },
  V3: { type: 'EZ81', brand: 'Ostrava', dateCode: 'K7-31', stock: 'old stock', label: '' },
} as const;
type Socket = keyof typeof valves;

/**
 * The invented builder J. M. builds Heron over two days.
 *
 * A dry joint is found cold; a leaking coupling capacitor drives the cathode of the output valve past its stop
 * limit; the app is closed while the capacitors drain, and opened again the next morning.
 */
export async function buildHeron(hand: Hand, kitPath: string): Promise<void> {
  await hand.start(kitPath, { mains: '230 V 50 Hz' });
  await hand.act({ kind: 'bench-recorded', by: 'hand', bench });
  const meter = new InventedMeter(seed);
  const plot: Plot = { wrong: {}, before: {} };
  const walk = new Walk(hand, meter, plot);
  const note = (about: string | null, text: string) =>
    hand.act({ kind: 'note-written', by: 'hand', about, text });
  const fit = async (socket: Socket) => {
    if (hand.view.build.valves[socket] !== undefined) return;
    await walk.makeDead();
    await hand.act({ kind: 'valve-fitted', by: 'hand', socket, ...valves[socket] });
  };
  const pullOut = async (socket: Socket) => {
    if (hand.view.build.valves[socket] === undefined) return;
    await hand.act({ kind: 'valve-removed', by: 'hand', socket });
  };

  plot.wrong['v1b-cathode-cold'] = {
    typed: 'OL',
    after: async () => {
      hand.wait(420);
      const what = 'R17 had no solder at TS3.4; the joint was made again and tugged';
      await hand.act({
        kind: 'repaired',
        by: 'hand',
        readings: ['v1b-cathode-cold'],
        what,
        places: ['TS3.4'],
      });
    },
  };
  plot.wrong['volume-cold'] = {
    typed: '131 k',
    after: async () => {
      const reason = 'P1 reads 131 kΩ by itself as well. It only loads the source; the maker is told.';
      await hand.act({ kind: 'verdict-accepted', by: 'hand', reading: 'volume-cold', reason });
    },
  };
  plot.before['on-insulation'] = async () => {
    await hand.act({ kind: 'insulation-not-tested', by: 'hand' });
  };
  plot.before['on-rectifier'] = () => fitAndNote();
  plot.before['drain-rectifier'] = async () => {
    await note(null, 'Stopped here for the night, with the plug out and in sight.');
    await hand.restart(17 * 3600 + 53 * 60);
  };
  plot.before['on-running'] = async () => {
    await fit('V1');
    await fit('V2');
  };
  plot.wrong['v2-cathode'] = {
    typed: '13.4',
    after: async () => {
      await walk.makeDead();
      await walk.soldering('C6 leaks: 11 V at the grid of V2 through it. A new one fitted', [
        'V1.3',
        'TS3.6',
      ]);
      const places = ['V1.3', 'TS3.6'];
      const what = 'C6 replaced';
      await hand.act({ kind: 'repaired', by: 'hand', readings: ['v2-cathode'], what, places });
      for (const socket of ['V2', 'V1', 'V3'] as const) await pullOut(socket);
      plot.before['read-output-cathode'] = async () => {
        for (const socket of ['V3', 'V1', 'V2'] as const) await fit(socket);
      };
    },
  };
  plot.before['off-listening'] = async () => {
    await note(
      'listen-1',
      'A faint hum with the ear at the cone, nothing from the chair. V1 rings a little when tapped.',
    );
  };
  // Fitting the plate counts as work inside: the app asks for the lamp stage once more.
  plot.before['sign-report'] = () => walk.makeDead();
  await walk.toTheEnd();

  async function fitAndNote(): Promise<void> {
    await fit('V3');
    await note('fit-v3', 'Pin 4 of V3 was bent a little; straightened before fitting.');
  }
}
