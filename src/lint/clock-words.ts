/** Words, places and hands-on things of PTP clocks. */
import type { Step } from '../model/timing/bmca.js';
import { isSwitch } from '../model/timing/clocks.js';
import type { NamedLoss } from '../model/timing/failover.js';
import type { Span } from '../model/timing/takeover-time.js';
import type { Clock, Island } from '../model/timing/timing.js';
import { formatClockIdentity } from '../values/clock-identity.js';
import { linkLabel } from '../model/vlans/trunks.js';
import type { Link } from '../plan/types.js';
import type { Mark, Touch } from './finding.js';
import { byLabel } from '../collections/order.js';
import { mark } from './marks.js';
import { inRig } from './leg-sets.js';
import { listNames } from '../words/lists.js';

/** Where a clock's PTP settings are written. */
export function clockMark(clock: Pick<Clock, 'name' | 'settings'>, note?: string, key?: string): Mark {
  return mark(clock.settings, note === undefined ? clock.name : `${clock.name}: ${note}`, key);
}

/** The device or switch that is the clock. */
export function clockTouch({ owner, name }: Pick<Clock, 'owner' | 'name'>): Touch {
  return { kind: isSwitch(owner) ? 'switch' : 'device', name };
}

/** `cam-3 in domain 127 in rig Heron`. */
export function clockSubject({ name, domain, rig }: Pick<Clock, 'name' | 'domain' | 'rig'>): string {
  return `${name} in domain ${domain}${inRig(rig)}`;
}

/** `domain 127 in rig Heron`, `domain 127 in rigs Heron and Osprey` where an island joins several. */
export function islandSubject({ group, clocks }: Pick<Island, 'group' | 'clocks'>): string {
  const rigs = [...new Set(clocks.map(({ rig }) => rig.name))].filter((name) => name !== '').sort();
  const where = rigs.length === 0 ? '' : ` in ${rigs.length === 1 ? 'rig' : 'rigs'} ${listNames(rigs, rigs.length)}`;
  return `domain ${group.domain}${where}`;
}

/** Clocks in the order of their names. */
export function clocksByName<T extends Pick<Clock, 'name' | 'rig'>>(clocks: readonly T[]): readonly T[] {
  return byLabel(clocks, ({ name, rig }) => `${name} ${rig.name}`);
}

/** Why the first clock beats the second: `priority1 127 goes before 128`. */
export function stepWords(step: Step, winner: Clock, loser: Clock): string {
  switch (step) {
    case 'priority1':
    case 'priority2':
      return `its ${step} ${winner.quality[step]} goes before ${loser.quality[step]}`;
    case 'clockClass':
      return `its clock class ${winner.quality.clockClass} goes before ${loser.quality.clockClass}`;
    case 'clockAccuracy':
      return `its clock accuracy ${winner.quality.clockAccuracy} goes before ${loser.quality.clockAccuracy}`;
    case 'offsetScaledLogVariance':
      return `its variance ${winner.quality.offsetScaledLogVariance} goes before ${loser.quality.offsetScaledLogVariance}`;
    case 'identity':
    case 'stepsRemoved':
    case 'sender':
    case 'receiver':
      if (winner.assumed.has('identity') || loser.assumed.has('identity'))
        return 'everything before the clock identity is equal, and the plan does not state the identities';
      return `everything else is equal and its clock identity ${formatClockIdentity(winner.quality.identity)} goes before ${formatClockIdentity(loser.quality.identity)}`;
  }
}

/** `in 0.75 to 1 s`. */
export function spanWords({ fromS, toS }: Span): string {
  return fromS === 0 ? `within ${round(toS)} s` : `in ${round(fromS)} to ${round(toS)} s`;
}

/** These clocks gone together. */
export function lossOfClocks(clocks: readonly Clock[]): NamedLoss {
  const name = clocks.map((one) => one.name).join(' and ');
  return { kind: 'device', name, clockClass: undefined, loss: { owners: new Set(clocks.map(({ owner }) => owner)) } };
}

/** These links cut together. */
export function lossOfLinks(links: readonly Link[]): NamedLoss {
  const name = links.map(linkLabel).join(' and ');
  return { kind: 'link', name, clockClass: undefined, loss: { links: new Set(links) } };
}

/** `1 clock`, `12 clocks`. */
export function clockCount(count: number): string {
  return count === 1 ? '1 clock' : `${count} clocks`;
}

/** 0.375 stays, 1.0000001 does not. */
function round(seconds: number): number {
  return Math.round(seconds * 1000) / 1000;
}
