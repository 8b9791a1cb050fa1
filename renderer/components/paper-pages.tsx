import type { PaperItem, PaperPage } from '../../shared-core/report/paper-page.ts';

interface PaperPagesProps {
  readonly pages: readonly PaperPage[];
  /** "Build report" */
  readonly title: string;
  /** Addresses of photos by their files; one that is missing leaves its place empty. */
  readonly photos: Readonly<Record<string, string>>;
}

/** Printed pages as the PDF has them, one below the other; printing the screen prints these and nothing else. */
export function PaperPages({ pages, title, photos }: PaperPagesProps) {
  return (
    <div className="papers">
      {pages.map(({ width, height, items }, index) => (
        // Pages have no identity beyond their number.
        <svg
          key={index}
          className="paper"
          viewBox={`0 0 ${width} ${height}`}
          role="img"
          aria-label={`${title}, page ${index + 1} of ${pages.length}`}
        >
          {items.map((item, place) => (
            <Item key={place} item={item} photos={photos} />
          ))}
        </svg>
      ))}
    </div>
  );
}

function Item({ item, photos }: { readonly item: PaperItem } & Pick<PaperPagesProps, 'photos'>) {
  if (item.kind === 'text') {
    const { x, y, text, width, size, face, colour } = item;
    const isMono = face === 'mono' || face === 'mono-bold';
    const isBold = face === 'bold' || face === 'mono-bold';
    return (
      <text
        x={x}
        y={y}
        fontSize={size}
        fontFamily={isMono ? 'Kitwright Mono' : 'Kitwright Paper'}
        fontWeight={isBold ? 700 : 400}
        fill={colour}
        textLength={width > 0 ? width : undefined}
      >
        {text}
      </text>
    );
  }
  if (item.kind === 'photo') {
    const { x, y, width, height, file } = item;
    const address = photos[file];
    return address === undefined ? null : <image href={address} {...{ x, y, width, height }} />;
  }
  const { d, fill, stroke, weight, dash, shift } = item;
  return (
    <path
      d={d}
      fill={fill ?? 'none'}
      stroke={stroke ?? 'none'}
      strokeWidth={weight}
      strokeLinejoin="round"
      strokeDasharray={dash?.join(' ')}
      transform={shift === null ? undefined : `translate(${shift.x} ${shift.y}) scale(${shift.scale})`}
    />
  );
}
