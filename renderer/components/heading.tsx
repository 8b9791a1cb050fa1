import { useEffect, useRef } from 'react';
import type { ReactNode } from 'react';

interface HeadingProps {
  readonly children: ReactNode;
  /** The focus moves here whenever this changes. */
  readonly of: string;
}

/** The heading of a screen; it takes the focus when the screen changes, so that reading starts there. */
export function Heading({ children, of }: HeadingProps) {
  const element = useRef<HTMLHeadingElement>(null);
  useEffect(() => {
    element.current?.focus({ preventScroll: true });
    if (typeof window.scrollTo === 'function') window.scrollTo(0, 0);
  }, [of]);
  return (
    <h1 ref={element} tabIndex={-1}>
      {children}
    </h1>
  );
}
