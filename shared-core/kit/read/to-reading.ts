import { formatQuantity } from '../../units/format-quantity.ts';
import { readQuantity } from '../../units/read-quantity.ts';
import type { Unit } from '../../units/unit.ts';
import type { Finding } from '../draft.ts';
import type { Condition, Lead, Measure, Reading } from '../kit.ts';
import type { WrittenCondition, WrittenLead, WrittenReading } from '../schema/sections.ts';

/** The unit that a measure is in. */
export function unitOfMeasure(measure: Measure): 'V' | 'Ω' | '' {
  if (measure === 'gain') return '';
  return measure === 'dc volts' || measure === 'ac volts' ? 'V' : 'Ω';
}

/** A reading of the kit, or what is wrong with its limits. */
export function toReading(id: string, written: WrittenReading, path: string, findings: Finding[]): Reading {
  const unit = unitOfMeasure(written.measure);
  const limit = (key: 'stop-above' | 'stop-below') => {
    const stated = written[key];
    if (stated === undefined) return null;
    if (stated.unit === unit) return stated.value;
    const message = `"${key}" is in ${stated.unit}, but the reading is in ${unit || 'plain numbers'}`;
    findings.push({
      code: 'kit/quantity',
      path: `${path}.${key}`,
      message,
      hint: 'Use the unit of the reading.',
    });
    return null;
  };
  return {
    id,
    when: written.when,
    title: written.title,
    at: written.at,
    against: written.against,
    measure: written.measure,
    in: written.in,
    expect:
      written.expect === undefined ? null : toExpectation(written.expect, unit, `${path}.expect`, findings),
    stopAbove: limit('stop-above'),
    stopBelow: limit('stop-below'),
    repeatAfterSeconds: written['repeat-after'],
    proves: written.proves ?? null,
  };
}

/** `OL`, `below 0.3 ohm`, `above 1 Mohm`, `above 10 ohm, below 20 ohm`. */
function toExpectation(text: string, unit: Unit, path: string, findings: Finding[]): Reading['expect'] {
  if (/^OL$/i.test(text.trim())) return { overload: true };
  const result: { above?: number; below?: number } = {};
  for (const clause of text.split(/\s*(?:,\s|\band\b)\s*/u)) {
    const [, side, size = ''] = /^(above|below)\s+(.+)$/u.exec(clause.trim()) ?? [];
    const reading = readQuantity(size, unit);
    if (side === undefined || !reading.ok || (unit !== '' && !reading.unitGiven)) {
      const example = unit === 'V' ? '6 V' : formatQuantity(0.3, unit);
      const hint = `Write OL, "below ${example}", "above …", or both with a comma.`;
      findings.push({ code: 'kit/quantity', path, message: `Expected a limit, received "${text}"`, hint });
      return null;
    }
    result[side === 'above' ? 'above' : 'below'] = reading.value;
  }
  return result;
}

/** A condition of the kit. */
export function toCondition(id: string, written: WrittenCondition): Condition {
  const loads = Object.entries(written.loads);
  return {
    id,
    when: written.when,
    title: written.title,
    supply: written.supply,
    lampWatts: written.lamp ?? null,
    variac: written.at ?? null,
    fitted: written.fitted,
    switches: written.switches,
    controls: written.controls,
    input: written.input,
    loads: Object.fromEntries(loads.map(([jack, load]) => [jack, load.ohms])),
    loudspeakers: loads.filter(([, load]) => load.isLoudspeaker).map(([jack]) => jack),
    readyAfterSeconds: written['ready-after'] ?? 0,
    cautions: written.cautions,
  };
}

/** A lead of the kit. */
export function toLead(id: string, written: WrittenLead): Lead {
  const { when, from, to, colour, length, style } = written;
  return { id, when, from, to, colour, metres: length ?? null, style };
}
