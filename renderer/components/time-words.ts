/** A length of time for the bar: "48 s", "4 min 12 s", "1 h 05 min". Thin no-break spaces. */
export function durationWords(seconds: number): string {
  const whole = Math.max(0, Math.floor(seconds));
  const minutes = Math.floor(whole / 60);
  if (whole < 60) return `${whole}\u202fs`;
  if (minutes < 60) return `${minutes}\u202fmin ${String(whole % 60).padStart(2, '0')}\u202fs`;
  return `${Math.floor(minutes / 60)}\u202fh ${String(minutes % 60).padStart(2, '0')}\u202fmin`;
}

/** The time of day of a UTC time, at this place: "14:02". */
export function clockWords(at: string): string {
  const time = new Date(at);
  if (Number.isNaN(time.getTime())) return '—';
  return `${String(time.getHours()).padStart(2, '0')}:${String(time.getMinutes()).padStart(2, '0')}`;
}

/** Date and time of day at this place: "25 November 2026, 14:02". */
export function dateWords(at: string | null): string {
  const time = new Date(at ?? '');
  if (Number.isNaN(time.getTime())) return '—';
  const day = time.toLocaleDateString('en-GB', { day: 'numeric', month: 'long', year: 'numeric' });
  return `${day}, ${clockWords(at ?? '')}`;
}
