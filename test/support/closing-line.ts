/** A last line that says how many tests passed, for people and for whatever reads the run. */
import type { Reporter, TestModule } from 'vitest/node';

class ClosingLine implements Reporter {
  onTestRunEnd(modules: readonly TestModule[]): void {
    const counts = { passed: 0, failed: 0, skipped: 0, pending: 0 };
    for (const module of modules) {
      for (const test of module.children.allTests()) counts[test.result().state]++;
      // A file that cannot even be loaded has no tests to fail.
      if (module.state() === 'failed' && module.errors().length > 0) counts.failed++;
    }
    const { passed, failed, skipped } = counts;
    process.on('exit', () => {
      process.stdout.write(`\n${passed} passed, ${failed} failed, ${skipped} skipped\n`);
    });
  }
}

// biome-ignore lint/style/noDefaultExport: a reporter is named by its file.
export default ClosingLine;
