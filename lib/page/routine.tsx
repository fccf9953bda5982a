/** Her routine: how likely each score of it is, what it brings, what she needs, her chances by it. */
import type { Chances } from '../chances/chances.js';
import { type Meet, onePoint } from '../meet/meet.js';
import { distributionIn } from '../range/distribution.js';
import type { DeskCard } from '../report/desk.js';
import { routineWords } from '../report/routine-picture.js';
import { needsReport } from '../report/sheet.js';
import { shower } from '../report/words.js';
import type { PageFacts } from './facts.js';
import { PAGE_PALETTE, type Palette } from './pictures/palette.js';
import { RoutinePicture } from './pictures/routine.js';
import { ReportView } from './report-view.js';

export function Routines({ meet, cards, curves }: PageFacts) {
  return (
    <section id="routine" aria-labelledby="routine-head">
      <h2 id="routine-head">Routine</h2>
      {cards.every((card) => card.sheet === null) ? <p>Nobody is up in this contest now.</p> : null}
      {cards.map((card) => (
        <RoutinePanel
          meet={meet}
          card={card}
          curve={curves.get(card.routine) ?? null}
          key={card.routine}
        />
      ))}
      <div id="another" data-own />
    </section>
  );
}

export interface RoutinePanelProps {
  readonly meet: Meet;
  readonly card: Pick<DeskCard, 'routine' | 'sheet'>;
  readonly curve: NonNullable<Chances['curve']> | null;
}

export function RoutinePanel({ meet, card, curve }: RoutinePanelProps) {
  const { sheet, routine } = card;
  if (sheet === null) return null;
  return (
    <article class="routine" id={`routine-${routine}`}>
      <div class="sheet">
        <ReportView report={needsReport(meet, sheet)} />
      </div>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what can be scrolled must be reached by the keyboard */}
      <div class="scroll" tabIndex={0}>
        <RoutinePictureOf meet={meet} sheet={sheet} curve={curve} palette={PAGE_PALETTE} />
      </div>
    </article>
  );
}

/** Nothing where her range is not known. */
export function RoutinePictureOf({
  meet,
  sheet,
  curve,
  palette,
  isFile = false,
}: {
  readonly meet: Meet;
  readonly sheet: NonNullable<DeskCard['sheet']>;
  readonly curve: NonNullable<Chances['curve']> | null;
  readonly palette: Palette;
  readonly isFile?: boolean;
}) {
  const distribution = distributionIn(meet, sheet.range);
  if (distribution === null) return null;
  return (
    <RoutinePicture
      words={routineWords(meet, sheet)}
      distribution={distribution}
      curve={curve?.points ?? []}
      show={shower(meet)}
      unitsPerPoint={onePoint(meet)}
      palette={palette}
      isFile={isFile}
    />
  );
}
