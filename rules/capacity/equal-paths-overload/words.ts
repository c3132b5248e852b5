import {
  agree,
  counted,
  formatRate,
  linkLabel,
  listNames,
  type FindingWords,
  type Link,
  type NonEmpty,
} from '../../../src/doors/rule.js';
import { type OpenCause, rateLabel, type RateNote } from '../../../src/doors/capacity.js';

export interface Facts {
  /** The fullest first; an aggregate by its first member. */
  readonly links: NonEmpty<Link>;
  /** Of the first. */
  readonly rateBps: number;
  /** With all streams that have the choice, and with as few as an even spread puts there. */
  readonly worstBps: number;
  readonly bestBps: number;
  /** Whether an even spread would fit on each of them. */
  readonly enough: boolean;
  /** Those that choose. */
  readonly routers: OpenCause['routers'];
  readonly streams: number;
  /** Whether the plan says that streams spread. */
  readonly spread: boolean;
}

export function words(facts: Facts): FindingWords<RateNote> {
  const { links, rateBps, worstBps, bestBps, enough, routers, streams, spread } = facts;
  const [first, ...more] = links;
  const names = listNames(
    routers.map(({ name }) => name),
    4,
  );
  const besides = more.length === 0 ? '' : `, and ${listNames(more.map(linkLabel), 3)} likewise`;
  return {
    what: `${names} ${agree(routers.length, 'has', 'have')} equal paths for ${counted(streams, 'stream')}, and ${spread ? 'nobody can foresee which they take' : 'the plan does not say which they take'}: if all take one, ${linkLabel(first)} carries ${formatRate(worstBps)} on its ${formatRate(rateBps)}, ${formatRate(bestBps)} if they spread evenly${besides}`,
    onAir:
      'many routers put all streams on the first of equal paths: the link then drops packets of every stream alike while the other path is idle',
    fix:
      enough && routers.length > 1
        ? `divide the streams on purpose: by different \`metric\`s on the equal paths of ${names}, so that some take one path and some the other; or make each path wide enough for all`
        : 'make each path wide enough for all of them, or take streams off: no metric divides what one router takes',
    label: rateLabel,
  };
}
