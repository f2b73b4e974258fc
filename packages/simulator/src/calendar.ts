/** Days from 1 January 1970 to the first of March of a year and so on: the civil calendar as whole numbers. */
function daysBefore(year: number, month: number, day: number): number {
  const y = month > 2 ? year : year - 1;
  const shifted = (month + 9) % 12;
  return (
    365 * y + Math.floor(y / 4) - Math.floor(y / 100) + Math.floor(y / 400) + Math.floor((153 * shifted + 2) / 5) + day
  );
}

/** A moment of local time as ISO 8601, so many seconds after a full hour of a day. */
export function isoTime(
  start: { readonly year: number; readonly month: number; readonly day: number; readonly hour: number },
  utcOffset: string,
  seconds: number,
): string {
  const total = start.hour * 3600 + Math.round(seconds);
  let day = daysBefore(start.year, start.month, start.day) + Math.floor(total / 86_400);
  const within = total - Math.floor(total / 86_400) * 86_400;
  // find the date back: the year by a first guess that is never too large, then the month and the day by counting on
  let year = Math.floor((day - 366) / 365.2425);
  while (daysBefore(year + 1, 1, 1) <= day) year++;
  let month = 1;
  while (month < 12 && daysBefore(year, month + 1, 1) <= day) month++;
  day -= daysBefore(year, month, 1) - 1;
  const clock = [Math.floor(within / 3600), Math.floor(within / 60) % 60, within % 60];
  return `${digits(year, 4)}-${digits(month, 2)}-${digits(day, 2)}T${clock.map((part) => digits(part, 2)).join(":")}${utcOffset}`;
}

function digits(value: number, count: number): string {
  return String(value).padStart(count, "0");
}
