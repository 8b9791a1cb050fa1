import { describe, expect, it } from 'vitest';
import { readPlaces } from '../../../../renderer/features/repair/places-field.tsx';
import { heronKit } from '../../helpers/heron-kit.ts';

describe('places touched, as typed', () => {
  it('keeps the places that the kit has and names the others', () => {
    expect(readPlaces('TS1.3, V2.7;V9.1', heronKit.netOf)).toEqual({
      places: ['TS1.3', 'V2.7'],
      unknown: ['V9.1'],
    });
  });

  it('takes a part for all its ends, and no part for another with a longer name', () => {
    expect(readPlaces('R1, V1.3', heronKit.netOf)).toEqual({
      places: ['R1.1', 'R1.2', 'V1.3'],
      unknown: [],
    });
  });

  it('leaves nothing for an empty text', () => {
    expect(readPlaces('  ', heronKit.netOf)).toEqual({ places: [], unknown: [] });
  });
});
