import type { Finding } from '../draft.ts';
import type { WrittenValve } from '../schema/valves.ts';

const electrodes: Readonly<
  Record<WrittenValve['kind'], readonly ('anode' | 'grid' | 'screen' | 'cathode')[]>
> = {
  triode: ['anode', 'grid', 'cathode'],
  pentode: ['anode', 'screen', 'grid', 'cathode'],
  rectifier: ['anode', 'cathode'],
};

/** Pins of a kit's own type that are missing, not on the base, or given twice. */
export function checkPins(
  written: WrittenValve,
  count: number,
  isFilament: boolean,
  path: string,
): readonly Finding[] {
  const findings: Finding[] = [];
  const uses = new Map<number, string>();
  const take = (pin: number, use: string, at: string): void => {
    const before = uses.get(pin);
    // Anodes of a rectifier share their cathode, which may be joined to the heater.
    const isShared = written.kind === 'rectifier' && use !== 'anode' && before !== 'anode';
    if (pin < 1 || pin > count) {
      const hint = `Its base has pins 1 to ${count}, counted from below.`;
      findings.push({ code: 'kit/pin-mismatch', path: at, message: `There is no pin ${pin}`, hint });
    } else if (before !== undefined && !isShared) {
      const message = `Pin ${pin} is given twice: ${before} and ${use}`;
      findings.push({
        code: 'kit/pin-mismatch',
        path: at,
        message,
        hint: 'Each pin belongs to one electrode.',
      });
    } else uses.set(pin, use);
  };
  const { heater } = written;
  heater.pins.forEach((pin, index) => take(pin, 'heater', `${path}.heater.pins.${index}`));
  if (heater.tap !== undefined) take(heater.tap, 'heater tap', `${path}.heater.tap`);
  written.sections.forEach((section, index) => {
    const at = `${path}.sections.${index}`;
    const wanted = electrodes[written.kind].filter((name) => !(isFilament && name === 'cathode'));
    for (const name of wanted) {
      const pin = section[name];
      if (pin !== undefined) take(pin, name, `${at}.${name}`);
      else {
        const message = `A ${written.kind} needs the pin of its ${name}`;
        findings.push({ code: 'kit/missing-key', path: at, message, hint: `Add "${name}:" here.` });
      }
    }
  });
  for (const pin of Object.keys(written['other-pins'])) {
    take(Number(pin), 'another use', `${path}.other-pins.${pin}`);
  }
  return findings;
}
