import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { buildPages, hashOf, viewOf } from '../../../renderer/app/view.ts';
import type { View } from '../../../renderer/app/view.ts';

const anyText = fc.string({ minLength: 1 });
const anyView: fc.Arbitrary<View> = fc.oneof(
  fc.constantFrom<View>({ kind: 'shelf' }, { kind: 'settings' }),
  anyText.map((path): View => ({ kind: 'kit', path })),
  fc
    .tuple(anyText, fc.constantFrom(...buildPages))
    .map(([build, page]): View => ({ kind: 'build', build, page })),
);

describe('the view in the address', () => {
  it('comes back from its fragment unchanged', () => {
    fc.assert(
      fc.property(anyView, (view) => {
        expect(viewOf(hashOf(view))).toEqual(view);
      }),
    );
  });

  it.each(['', '#', '#nonsense', '#build', '#kit/', '#kit/%E0%A4%A', '#record'])(
    'is the shelf for %j',
    (hash) => {
      expect(viewOf(hash)).toEqual({ kind: 'shelf' });
    },
  );

  it('shows the walk-through for a page that is not one', () => {
    expect(viewOf('#build/b1/attic')).toEqual({ kind: 'build', build: 'b1', page: 'walk' });
  });
});
