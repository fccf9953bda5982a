/** The story of the evening: everyone's chances after every score, and where it turned. */
import { storyReport } from '../report/story.js';
import { storyPictured } from '../report/story-picture.js';
import type { Story } from '../story/story.js';
import type { PageFacts } from './facts.js';
import { MOST_LINES, PAGE_PALETTE } from './pictures/palette.js';
import { StoryPicture } from './pictures/story.js';
import { ReportView } from './report-view.js';

export function StorySection({ meet, story }: PageFacts & { readonly story: Story | null }) {
  return (
    <section id="story" aria-labelledby="story-head">
      <h2 id="story-head">Story</h2>
      {story === null ? <p>There is no story without a log of scores.</p> : null}
      {story !== null && story.points.length > 0 ? (
        // biome-ignore lint/a11y/noNoninteractiveTabindex: what can be scrolled must be reached by the keyboard
        <div class="scroll" tabIndex={0}>
          <StoryPicture {...storyPictured(meet, story, MOST_LINES)} palette={PAGE_PALETTE} />
        </div>
      ) : null}
      {story === null ? null : (
        <ReportView report={storyReport(meet, story, { hint: false })} isUntitled />
      )}
    </section>
  );
}
