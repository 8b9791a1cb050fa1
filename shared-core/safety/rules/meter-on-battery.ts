import type { Guard } from '../guard.ts';
import { batteryShare, leastBatteryVolts } from '../limits.ts';
import { refuse } from '../refusal.ts';

/** Rule 6: the meter is shown to work on the battery noted at bench set-up. */
export const meterOnBattery: Guard = {
  id: 'meter-on-battery',
  check: ({ state: { bench }, event }) => {
    if (event.kind !== 'meter-shown-to-work') return [];
    const battery = bench?.batteryVolts ?? null;
    if (battery === null) {
      return [
        refuse(
          'safety/meter-not-shown',
          'No battery was noted at bench set-up.',
          'Note a battery in the bench, or take two looks at a store and see it fall.',
        ),
      ];
    }
    if (!(battery >= leastBatteryVolts)) {
      return [
        refuse(
          'safety/meter-not-shown',
          `A battery of ${battery} V shows nothing: a dead meter may read that.`,
          `Note a battery of ${leastBatteryVolts} V or more in the bench.`,
        ),
      ];
    }
    const volts = Math.abs(event.volts);
    if (volts >= battery * batteryShare.low && volts <= battery * batteryShare.high) return [];
    return [
      refuse(
        'safety/meter-not-shown',
        `The meter shows ${volts} V on a ${battery} V battery.`,
        'Check leads, function, range and the battery. Until the meter reads it, the meter proves nothing.',
      ),
    ];
  },
};
