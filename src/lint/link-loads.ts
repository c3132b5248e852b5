/** Findings on links that carry too much, alike for the crew's own links and for circuits. */
import { byCodeUnit, byLabel } from '../collections/order.js';
import {
  assumedRoot,
  busierWay,
  type Carriage,
  type FullLink,
  fullLinks,
  hangsOnAssumedTree,
  keyAssumed,
  type LinkUse,
  openLinks,
  reliefOf,
  roomFor,
  sureBps,
  type Unrated,
} from '../model/network/index.js';
import type { Model } from '../model/model.js';
import { linkEnds, linkLabel } from '../model/vlans/index.js';
import type { Plan, Rig } from '../plan/types.js';
import { chosenFacts } from '../words/chosen.js';
import { listNames } from '../words/lists.js';
import type { FullLinkFacts, RateNote } from '../words/loads.js';
import type { FindingDraft, Mark } from './finding.js';
import { inRig } from './leg-sets.js';
import { mark, noted } from './marks.js';

/** One finding a link, or circuit, that carries more than its rig's percentage of its rate. */
export function fullLinkFindings(
  plan: Plan,
  carriage: Carriage & Pick<Model, 'routedReceptions'>,
  percentOf: (rig: Rig) => number,
  which: 'own' | 'circuits',
): readonly FindingDraft<FullLinkFacts, RateNote>[] {
  const all = fullLinks(plan, carriage, percentOf, which);
  // What is too full only by a choice that routers have is the business of capacity/equal-paths-overload.
  const open = new Set(
    all.length === 0
      ? []
      : openLinks(plan, carriage, carriage.routedReceptions, percentOf).map(({ use }) => use.links[0]),
  );
  const full = all.filter(({ use }) => !open.has(use.links[0]));
  return byLabel(full, ({ use }) => useSubject(use)).map((one) => {
    const { use } = one;
    const { at, others } = useMarks(use);
    const sure = sureBps(use.loadBps, use.chosen);
    const percent = percentOf(use.links[0].rig);
    return {
      subject: useSubject(use),
      parties: use.links.map(linkLabel),
      severity: sure > use.rateBps && !hangsOnAssumedTree(use) ? 'error' : 'warning',
      // Up to its rate only the habit of keeping some of it free makes a link too full.
      confidence: isAssumed(one, percent) ? 'assumed' : sure > use.rateBps ? 'certain' : 'likely',
      facts: factsOf(one, percent, carriage.unrated),
      at,
      others,
      touch: { kind: 'link', name: linkLabel(use.links[0]) },
    };
  });
}

/**
 * Where a spanning tree that the plan does not state, the key of a table, or whether inputs join the next stream first
 * decides what goes this way.
 */
function isAssumed({ use, burden }: FullLink, percent: number): boolean {
  const { spans, loadBps, rateBps, chosen } = use;
  const sure = sureBps(loadBps, chosen);
  return (
    hangsOnAssumedTree(use) ||
    sure <= (rateBps * percent) / 100 ||
    (sure <= rateBps && loadBps > rateBps) ||
    spans.some(({ forwarding }) => keyAssumed(forwarding.igmp.conduct, burden.floodedFor))
  );
}

function factsOf(full: FullLink, percent: number, unrated: Unrated): FullLinkFacts {
  const { use, burden } = full;
  const [from, to] = busierWay(use).map((end) => end.switch?.name ?? end.text);
  return {
    links: use.links,
    rateBps: use.rateBps,
    loadBps: use.loadBps,
    atLeast: use.links.some(unrated.onLink),
    from: from ?? '',
    to: to ?? '',
    root: assumedRoot(use),
    burden: {
      streams: burden.streams,
      senders: burden.senders.map(([name, rateBps]) => ({ name, rateBps })),
      towardsBps: burden.towardsBps,
      towards: byLabel([...burden.towards], ({ name }) => name),
      floodedBps: burden.floodedBps,
      floodedFor: [...burden.floodedFor].sort(byCodeUnit),
      byHandBps: burden.byHandBps,
      byHandAt: byLabel([...burden.byHandAt], ({ name }) => name),
    },
    chosen: use.chosen === undefined ? undefined : chosenFacts(use.chosen, use.loadBps, (use.rateBps * percent) / 100),
    relief: reliefOf(full, percent),
    room: roomFor(use, percent),
  };
}

/** Stable key of a link, by its own name or else its two ports, or of an aggregate between two switches. */
export function useSubject({ links }: LinkUse): string {
  const [first] = links;
  if (links.length === 1 || first.aggregate === undefined)
    return first.name === undefined ? linkEnds(first) : `link ${first.name}${inRig(first.rig)}`;
  return `aggregate ${first.aggregate} between ${listNames(
    byLabel(
      first.ends.map((end) => end.switch?.name ?? end.text),
      (name) => name,
    ),
  )}`;
}

/** The first link with what it can carry, and the other members of its aggregate. */
export function useMarks({ links: [first, ...rest], rateBps }: LinkUse): {
  readonly at: Mark<RateNote>;
  readonly others: readonly Mark<never>[];
} {
  return {
    at: noted(mark(first, `link ${linkLabel(first)}`, 'rate'), { rateBps: rateBps / (rest.length + 1) }),
    others: rest.map((link) => mark(link, `link ${linkLabel(link)}`, 'rate')),
  };
}
