/** The desk: the board, and who is up on each apparatus with what she needs. */
import { standingsReport } from '../report/board.js';
import { chancesOnCard, type DeskCard, type DeskFigure } from '../report/desk.js';
import type { PageFacts } from './facts.js';
import { ReportView } from './report-view.js';

export function Desk({ meet, standings, cards, chances }: PageFacts) {
  // Who is up on an apparatus that this contest does not count is none of its business.
  const shown = cards.filter((card) => card.sheet !== null);
  return (
    <section id="desk" aria-labelledby="desk-head">
      <h2 id="desk-head">Desk</h2>
      <div class="desk">
        <div class="cards">
          {shown.length === 0 ? <p>Nobody is up in this contest now.</p> : null}
          {shown.map((card) => (
            <Card card={card} chances={chancesOnCard(meet, chances, card)} key={card.routine} />
          ))}
        </div>
        <div class="board">
          <ReportView report={standingsReport(meet, standings)} isUntitled />
        </div>
      </div>
    </section>
  );
}

function Card({ card, chances }: { card: DeskCard; chances: string }) {
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
      {chances === '' ? null : <p>{chances}</p>}
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
