/** A loss moment by moment, for a person. */
import type { TimelineResult } from '../../answers/timeline.js';
import type { Timeline } from '../../model/timeline/index.js';
import type { Block, Page, Part, Row } from '../../page/page.js';
import { prose } from '../../page/phrase.js';
import { block, headed, row, rowsPart } from '../../page/rows.js';
import { counted } from '../../words/counts.js';
import { blindLines } from '../blind.js';
import { cautionRow } from '../caution.js';
import { problemBlocks } from '../problems.js';
import { happeningWords, lostWords, notFollowedWords, whenWords } from './words.js';

const LABEL_ROOM = 16;
const MOST_NAMES = 6;

const READ_AS =
  'seconds after the loss, from the earliest to the latest. Links: the carrier falls at 0 s. Clocks: counted from the last Announce of a box that falls silent with its links still up (where the carrier goes too, all is sooner). Queriers and memberships: timers of the VLAN, where none are stated those of RFC 3376';

const READ_RETURN_AS =
  'seconds after it is there again, from the earliest to the latest, all clocks having settled without it. A clock that comes back listens first, and three of its Announces make others count it: where they kept their record of it, all is sooner by one';

/** What could not be read, each timeline, what was not followed. */
export function timelinePage(result: TimelineResult): Page {
  const { problems, timelines, blind } = result;
  const most = result.all ? Infinity : MOST_NAMES;
  return {
    blocks: [
      ...problemBlocks(problems),
      ...timelines.map((one) => timelineBlock(one, most)),
      ...block(
        ...rows([
          ...(timelines.length === 0
            ? []
            : row('Read as', prose(timelines.some(({ isReturn }) => isReturn) ? READ_RETURN_AS : READ_AS))),
          ...row('Not judged', ...blindLines(blind).map(prose)),
          ...cautionRow(),
        ]),
      ),
    ],
  };
}

function timelineBlock({ lost, isReturn, moments, notFollowed, receptions }: Timeline, most: number): Block {
  const [first, ...others] = moments;
  const nothing =
    notFollowed.length > 0
      ? 'nothing of what is followed changes'
      : 'nothing changes, as far as the plan can be judged';
  return headed(
    isReturn ? `WITH ${lostWords(lost)} BACK, IN TIME` : `WITHOUT ${lostWords(lost)}, IN TIME`,
    ...rows([
      ...[...(first === undefined ? [] : [first]), ...others].flatMap(({ when, what }) =>
        row(whenWords(when), happeningWords(what, most)),
      ),
      ...(others.length === 0 ? row('after', prose(nothing)) : []),
      ...(lost.kind === 'reference' || isReturn ? [] : row('Followed', prose(counted(receptions, 'reception')))),
      ...row('Not followed', ...notFollowed.map((one) => notFollowedWords(one, most))),
    ]),
  );
}

function rows(list: readonly Row[]): readonly Part[] {
  return rowsPart(LABEL_ROOM, list);
}
