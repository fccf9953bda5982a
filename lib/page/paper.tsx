/** What is printed: a sheet of paper a rotation, with room to write the scores by hand. */
import { CAUTION } from '../caution.js';
import type { PaperSheet } from '../report/paper.js';
import { titleOf } from '../report/words.js';
import type { PageFacts } from './facts.js';

/**
 * From so many lines on the type is smaller, so that a rotation stays on one sheet: A4 across has room for
 * 62 at the smallest that can be read, and what is more goes on on another.
 */
const MANY = 28;
const VERY_MANY = 38;

/** Lines of a sheet beside its rows: the title and the notes; of each apparatus its name and the heads. */
const AROUND = 4;
const HEADS = 2;

export function Paper({ meet, contest, paper }: PageFacts) {
  return (
    <section id="paper" aria-labelledby="paper-head">
      <h2 id="paper-head">Paper</h2>
      <p class="quiet screen">
        Printed, this page is one sheet for each rotation to come, and nothing else.
      </p>
      {paper.length === 0 ? <p>Nothing is to come.</p> : null}
      {paper.map((sheet) => (
        <Sheet sheet={sheet} head={titleOf(meet, contest.id)} key={sheet.title} />
      ))}
    </section>
  );
}

function Sheet({ sheet, head }: { sheet: PaperSheet; head: string }) {
  const lines = sheet.stations.reduce((n, s) => n + s.rows.length + HEADS, AROUND);
  const size = lines > VERY_MANY ? ' very-many' : lines > MANY ? ' many' : '';
  return (
    <article class={`paper${size}`}>
      <h3>
        {sheet.title} <small>{head}</small>
      </h3>
      {sheet.stations.map(({ apparatus, rows: all }) => (
        // biome-ignore lint/a11y/noNoninteractiveTabindex: what can be scrolled must be reached by the keyboard
        <div class="scroll" tabIndex={0} key={apparatus}>
          <table>
            <caption>{apparatus}</caption>
            <thead>
              <tr>
                <th scope="col" class="number">
                  up
                </th>
                <th scope="col">name</th>
                <th scope="col">team</th>
                <th scope="col" class="number">
                  total
                </th>
                {sheet.goals.map((goal) => (
                  <th scope="col" class="number" key={goal}>
                    {goal}
                  </th>
                ))}
                <th scope="col" class="number">
                  expected
                </th>
                <th scope="col" class="number">
                  range
                </th>
                <th scope="col">score</th>
              </tr>
            </thead>
            <tbody>
              {all.map((row, i) => (
                <tr key={row.gymnast}>
                  <td class="number">{i + 1}</td>
                  <th scope="row">
                    <bdi>{row.name}</bdi>
                  </th>
                  <td>{row.team}</td>
                  <td class="number">{row.total}</td>
                  {sheet.goals.map((goal, k) => (
                    <td class="number" key={goal}>
                      {row.needs[k]}
                    </td>
                  ))}
                  <td class="number">{row.likely}</td>
                  <td class="number">{row.range}</td>
                  <td class="room">{row.remark}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      ))}
      <p class="quiet">
        {sheet.notes}. {CAUTION}
      </p>
    </article>
  );
}
