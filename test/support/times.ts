/** How often tests try what they draw: the soak tries it `TIMES` as often (test/soak/times.soak.ts). */
export function times(runs: number): number {
  return Math.max(1, Math.round(runs * Number(process.env.TIMES ?? 1)));
}
