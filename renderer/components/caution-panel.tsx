import type { ReactNode } from 'react';
import type { Caution } from '../../shared-core/kit/kit.ts';

interface CautionPanelProps {
  readonly level: Caution['level'];
  readonly children: ReactNode;
}

/** A caution with its signal word and colour (ISO 3864, ANSI Z535). */
export function CautionPanel({ level, children }: CautionPanelProps) {
  return (
    <div className={`caution caution-${level}`}>
      <strong className="signal-word">
        {level === 'notice' ? null : <AlertSymbol />}
        {level.toUpperCase()}
      </strong>
      <div className="caution-text">{children}</div>
    </div>
  );
}

/** The safety alert symbol: a triangle with an exclamation mark. */
export function AlertSymbol() {
  return (
    <svg className="alert-symbol" viewBox="0 0 24 22" aria-hidden="true">
      <path d="M12 1 L23 21 H1 Z" />
      <path className="alert-mark" d="M11 8 H13 L12.6 15 H11.4 Z M11 16.5 H13 V18.5 H11 Z" />
    </svg>
  );
}
