import { describe, expect, it } from 'vitest';
import { neighboursOf } from '../../../shared-core/prediction/neighbours.ts';
import { chooseParts } from './small-kit.ts';

const kit = chooseParts([
  { kind: 'tag-strip', id: 'TS1', tags: 5, earthed: [] },
  { kind: 'valve', id: 'V1', type: 'EL84', socket: { base: 'B9A', gapFaces: 0, mounted: 'chassis' } },
  { kind: 'valve', id: 'V2', type: 'EL34', socket: { base: 'octal', gapFaces: 0, mounted: 'chassis' } },
]);

describe('neighboursOf', () => {
  it('knows that the gap of a noval base parts pins 1 and 9', () => {
    expect(neighboursOf(kit, 'V1.9')).toEqual(['V1.8']);
    expect(neighboursOf(kit, 'V1.4')).toEqual(['V1.3', 'V1.5']);
  });

  it('closes the ring of an octal base', () => {
    expect(neighboursOf(kit, 'V2.1')).toEqual(['V2.8', 'V2.2']);
  });

  it('ends a tag strip at its last tag and knows nothing beside a net', () => {
    expect(neighboursOf(kit, 'TS1.5')).toEqual(['TS1.4']);
    expect(neighboursOf(kit, 'b1')).toEqual([]);
  });
});
