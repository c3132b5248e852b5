/** Which clocks of an island the plan wants to lead, and which may although nobody wants them to. */
import type { PtpDomain, Rig } from '../../plan/types.js';
import { compareQualities } from './bmca.js';
import { isSwitch } from './clocks.js';
import type { Clock, Island, TimingState } from './timing.js';

/** Clocks that others hear and that do not only follow. */
export function mayLead(clock: Clock): boolean {
  return !clock.slaveOnly && clock.ports.length > 0;
}

/** Those meant to lead that can, the best claim first. */
export function intendedLeaders(island: Pick<Island, 'clocks'>): readonly Clock[] {
  return island.clocks
    .filter((clock) => clock.meantToLead && mayLead(clock))
    .sort((a, b) => compareQualities(a.quality, b.quality).order);
}

/** Lists of grandmasters that name those of several rigs: who leads once these are joined, the intended one first. */
export function agreedLists({ group }: Pick<Island, 'group'>): readonly PtpDomain[] {
  return group.planned.filter(({ grandmasters }) => grandmasters.some(({ rig }) => rig !== grandmasters[0]?.rig));
}

/** Whether one list names grandmasters of all these rigs. */
export function isAgreed(island: Pick<Island, 'group'>, rigs: ReadonlySet<Rig>): boolean {
  return agreedLists(island).some(({ grandmasters }) => {
    const named = new Set(grandmasters.map(({ rig }) => rig));
    return [...rigs].every((rig) => named.has(rig));
  });
}

/** Clocks meant to lead that have a reference, and that one without goes before by its priority1 alone. */
export function outrankedBy(clock: Clock, island: Pick<Island, 'clocks'>): readonly Clock[] {
  if (clock.assumed.has('clockClass') || clock.quality.clockClass <= 7) return [];
  return island.clocks.filter(
    (one) =>
      one.meantToLead &&
      !one.slaveOnly &&
      !one.assumed.has('clockClass') &&
      one.quality.clockClass <= 7 &&
      clock.quality.priority1 < one.quality.priority1,
  );
}

/** A camera, a stage box: no switch, and not meant to lead. */
export function isEndDevice(clock: Clock): boolean {
  return !isSwitch(clock.owner) && !clock.meantToLead;
}

/** Locked to a primary reference, or in holdover from it, as far as the plan says (IEEE 1588-2008 Table 5). */
export function isTraceable({ quality, settings }: Clock): boolean {
  return settings.traceable !== false && (quality.clockClass === 6 || quality.clockClass === 7);
}

/** Known to be without a primary reference; false where the plan leaves it open. */
export function isUntraceable(clock: Clock): boolean {
  return clock.settings.traceable === false || (!clock.assumed.has('clockClass') && !isTraceable(clock));
}

/** Whether the plan says in which VLAN each of its PTP ports is: else it may stand on any island. */
export function isPlaced({ ports }: Clock): boolean {
  return (
    ports.length > 0 &&
    ports.every(({ attachment }) => attachment.interface === undefined || attachment.interface.vlan !== undefined)
  );
}

/** Islands of settled elections: an election that never settles proves nothing. */
export function settledIslands(state: TimingState): readonly Island[] {
  return state.groups.filter(({ election }) => election.settled).flatMap(({ islands }) => islands);
}
