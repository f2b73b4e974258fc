/** Why a text is not a time, and what to write. */
export interface TimeFault {
  readonly fault: string;
  readonly remedy: string;
}

const EXAMPLE = "2026-03-14T09:26:53+01:00";
const FORM = /^(\d{4})-(\d{2})-(\d{2})[T ](\d{2}):(\d{2})(?::(\d{2})(?:[.,](\d{1,9}))?)?(Z|[+-]\d{2}(?::?\d{2})?)?$/;

/**
 * Reads a time of ISO 8601 (the profile of RFC 3339; seconds may be left out): date, `T` or one space, hours and minutes, and
 * an offset from UTC, which is needed: a series that spans a change of summer time would otherwise be put in the wrong order.
 *
 * @returns seconds since 1970-01-01T00:00:00Z without leap seconds, or what is wrong
 */
export function readTime(text: string): number | TimeFault {
  const match = FORM.exec(text.trim());
  if (match === null) return { fault: "is not a time of ISO 8601", remedy: `Write it like ${EXAMPLE}.` };
  const [year, month, day, hour, minute] = [1, 2, 3, 4, 5].map((group) => Number(match[group])) as FiveNumbers;
  const second = Number(match[6] ?? 0);
  const offset = match[8];
  if (month < 1 || month > 12 || day < 1 || day > daysInMonth(year, month)) {
    return { fault: "names a day that the calendar does not have", remedy: "Correct the date: year-month-day." };
  }
  if (year < 1900) return { fault: "lies before 1900", remedy: "Correct the year." };
  if (hour > 23 || minute > 59 || second > 59) {
    return { fault: "names a time of day that does not exist", remedy: "Hours run to 23, minutes and seconds to 59." };
  }
  if (offset === undefined) {
    return {
      fault: "has no offset from UTC",
      remedy: `Add the offset of the place, such as +01:00, or Z for UTC: ${EXAMPLE}.`,
    };
  }
  const shift = offsetSeconds(offset);
  if (shift === undefined)
    return { fault: "has an impossible offset from UTC", remedy: "Offsets run from -18:00 to +18:00." };
  const fraction = match[7] === undefined ? 0 : Number(`0.${match[7]}`);
  return daysSince1970(year, month, day) * 86_400 + hour * 3600 + minute * 60 + second - shift + fraction;
}

/** Whether a text is a day of the calendar, written YYYY-MM-DD. */
export function isDay(text: string): boolean {
  return dayNumber(text) !== undefined;
}

/** Days since 1970-01-01 of a day written YYYY-MM-DD; undefined where it is none. */
export function dayNumber(text: string): number | undefined {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(text)) return undefined;
  const midnight = readTime(`${text}T00:00Z`);
  return typeof midnight === "number" ? midnight / 86_400 : undefined;
}

/** The day of a time in seconds since 1970, in UTC, written YYYY-MM-DD. */
export function dayOf(seconds: number): string {
  // the calendar of civil days from day numbers: H. Fliegel and T. Van Flandern, Comm. ACM 11, 657 (1968)
  const julian = Math.floor(seconds / 86_400) + 2_440_588;
  let l = julian + 68_569;
  const n = Math.floor((4 * l) / 146_097);
  l -= Math.floor((146_097 * n + 3) / 4);
  const i = Math.floor((4000 * (l + 1)) / 1_461_001);
  l = l - Math.floor((1461 * i) / 4) + 31;
  const j = Math.floor((80 * l) / 2447);
  const day = l - Math.floor((2447 * j) / 80);
  const month = j + 2 - 12 * Math.floor(j / 11);
  const year = 100 * (n - 49) + i + Math.floor(j / 11);
  return `${year}-${`${month}`.padStart(2, "0")}-${`${day}`.padStart(2, "0")}`;
}

type FiveNumbers = [number, number, number, number, number];

function offsetSeconds(offset: string): number | undefined {
  if (offset === "Z") return 0;
  const digits = offset.slice(1).replace(":", "");
  const minutes = Number(digits.slice(2) || 0);
  const seconds = Number(digits.slice(0, 2)) * 3600 + minutes * 60;
  if (minutes > 59 || seconds > 18 * 3600) return undefined;
  return offset[0] === "-" ? -seconds : seconds;
}

function daysInMonth(year: number, month: number): number {
  if (month === 2) return isLeap(year) ? 29 : 28;
  return month === 4 || month === 6 || month === 9 || month === 11 ? 30 : 31;
}

function isLeap(year: number): boolean {
  return (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
}

/** Days from 1970-01-01 in the proleptic Gregorian calendar: years begin in March here, so that leap days come last. */
function daysSince1970(year: number, month: number, day: number): number {
  const y = month > 2 ? year : year - 1;
  const marchMonth = month > 2 ? month - 3 : month + 9;
  const leapDays = Math.floor(y / 4) - Math.floor(y / 100) + Math.floor(y / 400);
  const dayOfYear = Math.floor((153 * marchMonth + 2) / 5) + day - 1;
  return 365 * y + leapDays + dayOfYear - 719_468;
}
