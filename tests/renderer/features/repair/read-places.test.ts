import { describe, expect, it } from 'vitest';
import { readPlaces } from '../../../../renderer/features/repair/work-inside-form.tsx';
import { heronKit } from '../../helpers/heron-kit.ts';

describe('places touched, as typed', () => {
  it('keeps the places that the kit has and names the others', () => {
    expect(readPlaces('TS1.3, V2.7;V9.1', heronKit.netOf)).toEqual({
      places: ['TS1.3', 'V2.7'],
      unknown: ['V9.1'],
    });
  });

  it('leaves nothing for an empty text', () => {
    expect(readPlaces('  ', heronKit.netOf)).toEqual({ places: [], unknown: [] });
  });
});
