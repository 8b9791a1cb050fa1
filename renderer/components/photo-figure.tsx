interface PhotoFigureProps {
  /** Null until it is there. */
  readonly address: string | null;
  readonly title: string;
  readonly caption: React.ReactNode;
}

/** A photo with its caption, in a frame of one size until it is there. */
export function PhotoFigure({ address, title, caption }: PhotoFigureProps) {
  return (
    <figure className="photo">
      <span className="photo-frame">{address === null ? null : <img src={address} alt={title} />}</span>
      <figcaption>{caption}</figcaption>
    </figure>
  );
}
