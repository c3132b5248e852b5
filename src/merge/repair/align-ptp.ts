/** One clock leads the joined rig: that of the rig whose settings count, at the pace of its domain. */
import { append } from '../../collections/group-by.js';
import type { Rig } from '../../plan/types.js';
import type { Document } from '../../source/document.js';
import { type Clock, compareQualities, type Island, mayLead, type TimingState } from '../../model/timing/index.js';
import type { EditList } from '../../edits/edit-list.js';

const PACES = ['logAnnounceInterval', 'logSyncInterval', 'logMinDelayReqInterval', 'announceReceiptTimeout'] as const;

/** Above it every clock that nobody set up comes first: 128 is the default of priority1 (IEEE 1588-2008 Annex J.3.2). */
const HIGHEST_PRIORITY1 = 127;

/** `agreement`: the document that says how the rigs meet; who leads is written there, once, for all of them. */
export function alignPtp(timing: TimingState, counts: Rig, agreement: Document | undefined, edits: EditList): void {
  const agreed: { readonly number: number; readonly grandmasters: readonly string[] }[] = [];
  for (const { islands, domain } of timing.groups) {
    for (const island of islands) {
      const rigs = new Set(island.clocks.map(({ rig }) => rig));
      if (rigs.size < 2) continue;
      const first = rigs.has(counts) ? counts : [...rigs].sort((a, b) => (a.name < b.name ? -1 : 1))[0];
      if (first === undefined) continue;
      alignPace(island, first, edits);
      const leaders = orderLeaders(island, first, edits);
      // An order that the clocks can't be given is not agreed on.
      if (leaders === undefined) continue;
      if (new Set(leaders.map(({ rig }) => rig)).size > 1 && !agreed.some(({ number }) => number === domain))
        agreed.push({ number: domain, grandmasters: leaders.map(({ rig, name }) => `${rig.name}:${name}`) });
    }
  }
  if (agreement === undefined || agreed.length === 0) return;
  const container = agreement.value as { readonly timing?: unknown };
  if (container.timing === undefined)
    edits.set({ origin: { document: agreement, container } }, 'timing', { domains: agreed });
}

function alignPace(island: Island, first: Rig, edits: EditList): void {
  const model = island.clocks.find(({ rig, meantToLead }) => rig === first && meantToLead);
  if (model === undefined) return;
  for (const clock of island.clocks) {
    if (clock.rig === first) continue;
    for (const key of PACES) {
      if (clock[key] === model[key]) continue;
      if (clock.settings[key] !== undefined) edits.set(clock.settings, key, model[key]);
      else if (clock.planned?.rig === clock.rig) edits.set(clock.planned, key, model[key]);
    }
  }
}

/** Leaders of the first rig, then those of the others, whose priority1 goes up as far as it takes; undefined where it can't. */
function orderLeaders(island: Island, first: Rig, edits: EditList): readonly Clock[] | undefined {
  const leaders = island.clocks.filter((clock) => clock.meantToLead && mayLead(clock));
  const byRig = new Map<Rig, Clock[]>([[first, []]]);
  for (const clock of [...leaders].sort((a, b) => compareQualities(a.quality, b.quality).order)) {
    append(byRig, clock.rig, clock);
  }
  let last = 0;
  let ordered = true;
  for (const own of byRig.values()) {
    if (own.length === 0) continue;
    const least = Math.min(...own.map(({ quality }) => quality.priority1));
    const shift = last === 0 || least > last ? 0 : last + 1 - least;
    const most = Math.max(...own.map(({ quality }) => quality.priority1)) + shift;
    if (shift > 0 && most > HIGHEST_PRIORITY1) {
      ordered = false;
      continue;
    }
    if (shift > 0) for (const clock of own) edits.set(clock.settings, 'priority1', clock.quality.priority1 + shift);
    last = most;
  }
  return ordered ? [...byRig.values()].flat() : undefined;
}
