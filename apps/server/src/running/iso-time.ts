/**
 * A moment in ISO 8601 with the offset of this machine from UTC, to the second: 2026-03-14T09:00:00+01:00. What people read in
 * a history is the clock on the wall.
 *
 * @param ms since 1970
 */
export function isoTime(ms: number): string {
  const offset_min = -new Date(ms).getTimezoneOffset();
  const wall = new Date(ms + offset_min * 60_000).toISOString().slice(0, 19);
  const two = (number: number) => String(number).padStart(2, "0");
  const hours = Math.floor(Math.abs(offset_min) / 60);
  return `${wall}${offset_min < 0 ? "-" : "+"}${two(hours)}:${two(Math.abs(offset_min) % 60)}`;
}
