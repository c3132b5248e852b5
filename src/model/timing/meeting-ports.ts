/** Ports of one clock that meet on one communication path (IEEE 1588-2008 §9.3.3: all but one of them go passive). */
import { groupBy } from '../../collections/group-by.js';
import type { NonEmpty } from '../../collections/non-empty.js';
import { clocksByName } from './clocks-by-name.js';
import type { Clock, ClockPort, TimingState } from './timing.js';

export interface MeetingPorts {
  readonly clock: Clock;
  /** Three or more, in the order of the clock's ports. */
  readonly ports: NonEmpty<ClockPort>;
}

/** Two may be a spare way. Ports whose VLAN is not stated may stand anywhere. */
export function meetingPorts({ clocks }: TimingState): readonly MeetingPorts[] {
  return clocksByName(clocks).flatMap((clock) =>
    [...groupBy(clock.ports, ({ path }) => path).values()].flatMap((ports): readonly MeetingPorts[] =>
      ports.length > MOST_ON_ONE_PATH && ports.every(isPlacedPort) ? [{ clock, ports }] : [],
    ),
  );
}

const MOST_ON_ONE_PATH = 2;

function isPlacedPort({ attachment: { interface: one } }: ClockPort): boolean {
  return one === undefined || one.vlan !== undefined;
}
