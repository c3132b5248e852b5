/** Which clocks of an island the plan wants to lead, and which may although nobody wants them to. */
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

/** Other clocks of the same rig and domain that are meant to lead and stand on another island, by name. */
export function leadersElsewhere(
  clock: Clock,
  { clocks }: Pick<Island, 'clocks'>,
  state: TimingState,
): readonly Clock[] {
  const here = new Set(clocks);
  return state.clocks
    .filter((one) => one.meantToLead && !one.slaveOnly && one.rig === clock.rig)
    .filter((one) => one.domain === clock.domain && one.transport === clock.transport && !here.has(one))
    .sort((a, b) => (a.name < b.name ? -1 : 1));
}
