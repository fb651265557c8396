/** Text a spreadsheet would run as a formula, or that looks like text protected already. */
const RISKY = /^'*[=+\-@\t\r]/;
const PROTECTED = /^'+[=+\-@\t\r]/;

/** Text as it stands in a CSV cell of ours: one apostrophe in front of what a spreadsheet would run. */
export const protectText = (text: string): string => (RISKY.test(text) ? `'${text}` : text);

/** The text back again: our import takes the one apostrophe off. */
export const unprotectText = (cell: string): string => (PROTECTED.test(cell) ? cell.slice(1) : cell);

/** One cell: numbers bare, text always in quotation marks so that codes stay codes, nothing for what is not known. */
export function csvCell(value: unknown): string {
  if (value === null || value === undefined) return '';
  if (typeof value === 'number') return String(value);
  return `"${protectText(String(value)).replaceAll('"', '""')}"`;
}

/** One line of a CSV file (RFC 4180). */
export const csvLine = (values: readonly unknown[]): string => `${values.map(csvCell).join(',')}\r\n`;
