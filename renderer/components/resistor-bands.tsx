import type { BandColour } from '../../shared-core/units/markings.ts';

/** The colour bands of a resistor: a small drawing of the part, and the same in words. */
export function ResistorBands({ bands }: { readonly bands: readonly BandColour[] }) {
  return (
    <span className="resistor">
      <svg viewBox="0 0 92 24" aria-hidden="true">
        <path className="resistor-wire" d="M0 12 H92" />
        <path className="resistor-body" d="M14 5 H26 V6 H66 V5 H78 V19 H66 V18 H26 V19 H14 Z" />
        {bands.map((colour, index) => (
          // Bands are told apart by their place: two may have the same colour.
          <rect
            key={index}
            className={`band-${colour}`}
            x={placeOf(index, bands.length)}
            y="6"
            width="5"
            height="12"
          />
        ))}
      </svg>
      <span>{bands.join(' ')}</span>
    </span>
  );
}

/** Bands stand close together at one end; the tolerance stands apart. */
function placeOf(index: number, count: number): number {
  return index === count - 1 ? 66 : 21 + index * 9;
}
