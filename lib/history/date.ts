/** Dates as histories write them. */

/** `2022-11-06`, from that, `2022/11/6` or `6.11.2022`; dates with the month first are not guessed. */
export function readDate(text: string): { readonly date: string } | { readonly why: string } {
  const [, y1, m1, d1] = /^(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?:[T ].*)?$/.exec(text) ?? [];
  const [, d2, m2, y2] = /^(\d{1,2})\.(\d{1,2})\.(\d{4})$/.exec(text) ?? [];
  const [year, month, day] = [y1 ?? y2, m1 ?? m2, d1 ?? d2].map(Number);
  if (text === '') return { why: 'no date' };
  if (!year || !month || !day) {
    return { why: `"${text}" is not a clear date: write it like 2022-11-06` };
  }
  const when = new Date(Date.UTC(year, month - 1, day));
  if (when.getUTCMonth() !== month - 1 || when.getUTCDate() !== day) {
    return { why: `there is no such day as ${text}` };
  }
  return { date: when.toISOString().slice(0, 10) };
}

/** Days from one date to another. */
export function daysBetween(from: string, to: string): number {
  return (Date.parse(to) - Date.parse(from)) / 86_400_000;
}
