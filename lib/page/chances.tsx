/** The chances: everyone's, the medals in order, what is at stake. */
import { fieldReport } from '../report/chances.js';
import type { PageFacts } from './facts.js';
import { ReportView } from './report-view.js';

export function ChancesSection({ meet, chances }: PageFacts) {
  return (
    <section id="chances" aria-labelledby="chances-head">
      <h2 id="chances-head">Chances</h2>
      {chances === null ? (
        <p>There are no chances while the ranges of some routines to come are missing.</p>
      ) : (
        <ReportView report={fieldReport(meet, chances)} isUntitled />
      )}
    </section>
  );
}
