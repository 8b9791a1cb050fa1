import { openCircuitVolts } from '../circuit/supply/transformer.ts';
import { primaryInUse, windingEndsOf } from '../kit/transformer-ends.ts';
import { type ElementContext, partValue } from './element-context.ts';
import type { HeaterLoad, MainsNetwork, WindingEmf } from './mains-network.ts';
import { valveInSocket } from './valve-elements.ts';

/** Ties the neutral to the chassis, as the mains does at the house's earth, in ohms (Ω): common practice, no source. */
const neutralOhms = 1;

/**
 * Ties every winding to the chassis, in ohms (Ω): holds windings that nothing else holds, and draws
 * less than a millionth of an ampere from the others.
 */
const tieOhms = 1e9;

/**
 * The kit at mains frequency: primaries, windings, heaters and resistors.
 *
 * @param mainsVolts Volts rms at the plug (V); 0 when unplugged.
 */
export function mainsSide(context: ElementContext, mainsVolts: number): MainsNetwork {
  const { chosen, wiring } = context;
  const [line, neutral] = [wiring.netAt('inlet.line'), wiring.netAt('inlet.neutral')];
  const transformers: { id: string; volts: number; primaryOhms: number }[] = [];
  const windings: WindingEmf[] = [];
  const heaters: HeaterLoad[] = [];
  const resistors: { id: string; nets: readonly [string, string]; ohms: number }[] = [];
  for (const part of chosen.parts) {
    if (part.kind === 'mains-transformer') {
      const used = primaryInUse(part, wiring.netAt, line, neutral);
      // Fewer turns than the rating holds for: more volts on every winding, less copper.
      const share = (used?.volts ?? part.primary.volts) / part.primary.volts;
      const open = openCircuitVolts(part);
      const copper = context.world.factor(`${part.id}.copper`);
      transformers.push({
        id: part.id,
        volts: used ? mainsVolts : 0,
        primaryOhms: open.primaryOhms * copper * share,
      });
      const turns = context.world.factor(`${part.id}.volts`);
      for (const [order, { name, pieces }] of open.windings.entries()) {
        const ends = windingEndsOf(part.windings[order]!);
        pieces.forEach((piece, index) => {
          windings.push({
            id: pieces.length > 1 ? `${part.id}.${name}.${index + 1}` : `${part.id}.${name}`,
            transformer: part.id,
            nets: [wiring.netAt(`${part.id}.${ends[index]}`), wiring.netAt(`${part.id}.${ends[index + 1]}`)],
            ratio: (piece.ratio * turns) / share,
            ohms: piece.ohms * copper,
          });
        });
      }
    } else if (part.kind === 'valve') {
      const type = valveInSocket(context, part);
      type?.heater.elements.forEach((wire, index) => {
        heaters.push({
          id: `${part.id}#heater${index + 1}`,
          nets: [wiring.netAt(`${part.id}.${wire.pins[0]}`), wiring.netAt(`${part.id}.${wire.pins[1]}`)],
          ratedVolts: wire.volts,
          ratedAmps: wire.amps * context.world.factor(`${part.id}.heater`),
        });
      });
    } else if (part.kind === 'resistor') {
      resistors.push({
        id: part.id,
        nets: [wiring.netAt(part.between[0]), wiring.netAt(part.between[1])],
        ohms: partValue(context, part.id, part.ohms),
      });
    }
  }
  for (const { id, nets } of windings) {
    resistors.push({ id: `${id}#tie`, nets: [nets[1], wiring.reference], ohms: tieOhms });
  }
  const isPlugged = mainsVolts > 0 && line !== neutral;
  if (isPlugged) resistors.push({ id: '#neutral', nets: [neutral, wiring.reference], ohms: neutralOhms });
  return {
    reference: wiring.reference,
    transformers,
    windings: windings.filter(({ nets }) => nets[0] !== nets[1]),
    heaters: heaters.filter(({ nets }) => nets[0] !== nets[1]),
    resistors: resistors.filter(({ nets }) => nets[0] !== nets[1]),
    sources: isPlugged ? [{ id: '#mains', nets: [line, neutral], volts: mainsVolts }] : [],
  };
}
