import { describe, expect, it } from 'vitest';
import { readPlaces } from '../../../../renderer/features/repair/work-inside-form.tsx';
import { heron } from '../../helpers/fake-bridge.ts';

describe('places touched, as typed', () => {
  it('keeps the places that the kit has and names the others', () => {
    expect(readPlaces('TS1.3, V2.7;V9.1', heron.kit.netOf)).toEqual({
      places: ['TS1.3', 'V2.7'],
      unknown: ['V9.1'],
    });
  });

  it('leaves nothing for an empty text', () => {
    expect(readPlaces('  ', heron.kit.netOf)).toEqual({ places: [], unknown: [] });
  });
});
