/** Days from 1899-12-30 to 1970-01-01; counted from there, days from March 1900 on have the numbers that spreadsheets give. */
const TO_1970 = 25_569;
/** What the calendar that begins in 1904 counts less. */
const FROM_1904 = 1462;
/** Before 1 March 1900 programs disagree, since one of them took 1900 for a leap year. */
const FIRST_SAFE = 61;
/** 9999-12-31. */
const LAST = 2_958_465;

/**
 * A spreadsheet's date and time as `YYYY-MM-DDThh:mm:ss`, with milliseconds where there are any: what the cell holds, without
 * an offset from UTC, which it never has.
 *
 * @param serial days, counted as the workbook counts them
 * @returns `undefined` for what is no date after February 1900, a time of day alone among them
 */
export function serialToIso(serial: number, from1904: boolean): string | undefined {
  const days = serial + (from1904 ? FROM_1904 : 0);
  if (!(days >= FIRST_SAFE && days < LAST + 1)) return undefined;
  // To the millisecond: a serial of this size holds no more than a few microseconds.
  const milliseconds = Math.round(days * 86_400_000);
  const day = Math.floor(milliseconds / 86_400_000);
  const rest = milliseconds - day * 86_400_000;
  const two = (value: number) => String(value).padStart(2, "0");
  const [hour, minute] = [Math.floor(rest / 3_600_000), Math.floor(rest / 60_000) % 60];
  const [second, part] = [Math.floor(rest / 1000) % 60, rest % 1000];
  const fraction = part === 0 ? "" : `.${String(part).padStart(3, "0").replace(/0+$/, "")}`;
  return `${calendarDay(day - TO_1970)}T${two(hour)}:${two(minute)}:${two(second)}${fraction}`;
}

/** The day of the proleptic Gregorian calendar: years begin in March here, so that leap days come last. */
function calendarDay(since1970: number): string {
  const shifted = since1970 + 719_468;
  const era = Math.floor(shifted / 146_097);
  const dayOfEra = shifted - era * 146_097;
  const yearOfEra = Math.floor(
    (dayOfEra - Math.floor(dayOfEra / 1460) + Math.floor(dayOfEra / 36_524) - Math.floor(dayOfEra / 146_096)) / 365,
  );
  const dayOfYear = dayOfEra - (365 * yearOfEra + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100));
  const marchMonth = Math.floor((5 * dayOfYear + 2) / 153);
  const day = dayOfYear - Math.floor((153 * marchMonth + 2) / 5) + 1;
  const month = marchMonth < 10 ? marchMonth + 3 : marchMonth - 9;
  const year = yearOfEra + era * 400 + (month <= 2 ? 1 : 0);
  const two = (value: number) => String(value).padStart(2, "0");
  return `${String(year).padStart(4, "0")}-${two(month)}-${two(day)}`;
}
