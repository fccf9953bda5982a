/** The desk: the board, and who is up on each apparatus with what she needs. */
import { standingsReport } from '../report/board.js';
import type { DeskCard, DeskFigure } from '../report/desk.js';
import type { PageFacts } from './facts.js';
import { ReportView } from './report-view.js';

export function Desk({ meet, standings, cards }: PageFacts) {
  return (
    <section id="desk" aria-labelledby="desk-head">
      <h2 id="desk-head">Desk</h2>
      <div class="desk">
        <div class="cards">
          {cards.length === 0 ? <p>Nothing is to come.</p> : null}
          {cards.map((card) => (
            <Card card={card} key={card.routine} />
          ))}
        </div>
        <div class="board">
          <ReportView report={standingsReport(meet, standings)} isUntitled />
        </div>
      </div>
    </section>
  );
}

function Card({ card }: { card: DeskCard }) {
  const { where, name, isAwaited, figures, condition, expected, after, routine } = card;
  return (
    <article class="card">
      <p class="where">
        {where}
        {isAwaited ? <strong> score awaited</strong> : null}
      </p>
      <h3>
        <a href={`#routine-${routine}`}>
          <bdi>{name}</bdi>
        </a>
      </h3>
      <ul class="figures">
        {figures.map((figure) => (
          <Figure figure={figure} key={figure.target} />
        ))}
      </ul>
      {condition === '' ? null : <p class="quiet">{condition}</p>}
      {[expected, after].map((words) =>
        words === '' ? null : (
          <p class="quiet" key={words}>
            <bdi>{words}</bdi>
          </p>
        ),
      )}
    </article>
  );
}

function Figure({ figure: { score, to, aside, way, target } }: { figure: DeskFigure }) {
  return (
    <li class={`figure ${way} ${target}`}>
      {score === '' ? (
        <span class="none">{aside}</span>
      ) : (
        <>
          <span class="score">{score}</span> <span class="to">{to}</span>
          {aside === '' ? null : <span class="aside"> {aside}</span>}
        </>
      )}
    </li>
  );
}
