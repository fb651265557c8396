const DAYS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
const isLeap = (year: number) => year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);

/**
 * An ISO day as the number YYYYMMDD, which sorts as days do; `null` when the text is not a day of the calendar.
 * @example dayNumber('2027-06-12') // 20270612
 */
export function dayNumber(text: string): number | null {
  if (text.length !== 10) return null;
  const bytes = new Uint8Array(10);
  for (let k = 0; k < 10; k++) bytes[k] = Math.min(255, text.charCodeAt(k));
  return dayOfBytes(bytes, 0, 10);
}

/**
 * {@link dayNumber} from the bytes `[start, end)` of a file; `null` also where white space stands around the day.
 * @example dayOfBytes(new TextEncoder().encode('2027-06-12'), 0, 10) // 20270612
 */
export function dayOfBytes(bytes: Uint8Array, start: number, end: number): number | null {
  if (end - start !== 10 || bytes[start + 4] !== 0x2d || bytes[start + 7] !== 0x2d) return null;
  let digits = 0;
  for (let k = 0; k < 10; k++) {
    if (k === 4 || k === 7) continue;
    const digit = (bytes[start + k] as number) - 48;
    if (digit < 0 || digit > 9) return null;
    digits = digits * 10 + digit;
  }
  const year = Math.floor(digits / 10_000);
  const month = Math.floor(digits / 100) % 100;
  const date = digits % 100;
  const most = (DAYS[month - 1] ?? 0) + (month === 2 && isLeap(year) ? 1 : 0);
  return date >= 1 && date <= most ? digits : null;
}

/**
 * The ISO day of a number YYYYMMDD.
 * @example dayText(20270612) // '2027-06-12'
 */
export function dayText(number: number): string {
  const digits = String(number).padStart(8, '0');
  return `${digits.slice(0, 4)}-${digits.slice(4, 6)}-${digits.slice(6)}`;
}

/**
 * The year of a number YYYYMMDD; null when the day is not known.
 * @example yearOfDayNumber(20270612) // 2027
 */
export const yearOfDayNumber = (number: number): number | null => (number === 0 ? null : Math.floor(number / 10_000));
