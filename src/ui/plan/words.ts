/** "5 minutes", "1 minute", "2.5 minutes": the number and its unit stay in one line. */
export function minutes(count: number): string {
  const shown = Math.round(count * 100) / 100;
  return `${shown}\u00a0minute${shown === 1 ? '' : 's'}`;
}

/** Seconds as a clock shows them: "4:05". */
export function clock(seconds: number): string {
  const whole = Math.max(0, Math.ceil(seconds));
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')}`;
}

const DAY = 86_400_000;

/** How far back a day lies, in words. */
export function daysAgo(at: number, now: number): string {
  const days = Math.round((startOfDay(now) - startOfDay(at)) / DAY);
  if (days <= 0) return 'today';
  return days === 1 ? 'yesterday' : `${days} days ago`;
}

/** The beginning of the day a moment lies in, here. */
export function startOfDay(at: number): number {
  const day = new Date(at);
  day.setHours(0, 0, 0, 0);
  return day.getTime();
}
