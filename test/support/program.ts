/** Mixed-integer programs, solved by HiGHS (npm package `highs`, https://highs.dev; branch and bound). */
import highsLoader from 'highs';

// The package's types are written for CommonJS; imported, it is the function itself.
const highs = await (highsLoader as unknown as typeof highsLoader.default)();

/** One linear constraint: the terms are at least `least`. */
interface Row {
  readonly terms: readonly (readonly [factor: number, variable: string])[];
  readonly least: number;
}

export class Program {
  readonly rows: Row[] = [];
  readonly binaries: string[] = [];
  readonly integers: string[] = [];
  #names = 0;

  /** No whole number of the program need be higher. */
  constructor(readonly highest: number) {}

  name(kind: 'binaries' | 'integers'): string {
    const variable = `${kind[0]}${this.#names++}`;
    this[kind].push(variable);
    return variable;
  }

  atLeast(least: number, ...terms: Row['terms']): void {
    this.rows.push({ terms, least });
  }

  /** In the LP format, with the objective to make one variable least. */
  text(objective: string): string {
    const term = ([factor, variable]: readonly [number, string]) =>
      `${factor < 0 ? '-' : '+'} ${Math.abs(factor)} ${variable}`;
    const rows = this.rows.map(
      ({ terms, least }, i) => ` c${i}: ${terms.map(term).join(' ')} >= ${least}`,
    );
    return [
      'Minimize',
      ` obj: ${objective}`,
      'Subject To',
      ...rows,
      'Bounds',
      ...this.integers.map((v) => ` 0 <= ${v} <= ${this.highest}`),
      ...(this.integers.length > 0 ? ['General', ` ${this.integers.join(' ')}`] : []),
      ...(this.binaries.length > 0 ? ['Binary', ` ${this.binaries.join(' ')}`] : []),
      'End',
      '',
    ].join('\n');
  }
}

/** The least a variable of a program can be. */
export function leastOf(program: Program, variable: string): number {
  const solution = highs.solve(program.text(variable), { mip_rel_gap: 0 });
  if (solution.Status !== 'Optimal') throw new Error(`no solution: ${solution.Status}`);
  return Math.round(solution.ObjectiveValue);
}
