/** A last line that says how many tests passed, for people and for whatever reads the run. */
import type { Reporter, TestModule } from 'vitest/node';

class ClosingLine implements Reporter {
  onTestRunEnd(modules: readonly TestModule[], unhandled: readonly unknown[]): void {
    const counts = { passed: 0, failed: 0, skipped: 0, pending: 0 };
    for (const module of modules) {
      for (const test of module.children.allTests()) counts[test.result().state]++;
      // A suite whose preparation fails has tests that are only skipped.
      for (const suite of module.children.allSuites()) {
        if (suite.state() === 'failed' && suite.errors().length > 0) counts.failed++;
      }
      // A file that cannot even be loaded has no tests to fail.
      if (module.state() === 'failed' && module.errors().length > 0) counts.failed++;
    }
    counts.failed += unhandled.length;
    const { passed, failed, skipped } = counts;
    process.on('exit', () => {
      process.stdout.write(
        '\nOne room alone: npm run build, then npx vitest run test/needs (or test/bin, …)\n',
      );
      process.stdout.write(`${passed} passed, ${failed} failed, ${skipped} skipped\n`);
    });
  }
}

// biome-ignore lint/style/noDefaultExport: a reporter is named by its file.
export default ClosingLine;
