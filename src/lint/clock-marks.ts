/** Places, subjects and hands-on things of PTP clocks. */
import { type Clock, type Island, isSwitch } from '../model/timing/index.js';
import { agree } from '../words/counts.js';
import { listNames } from '../words/lists.js';
import type { Mark, Touch } from './finding.js';
import { inRig } from './leg-sets.js';
import { mark } from './marks.js';

/** Where a clock's PTP settings are written. */
export function clockMark({ name, settings }: Pick<Clock, 'name' | 'settings'>, key?: string): Mark<never> {
  return mark(settings, name, key);
}

/** The device or switch that is the clock. */
export function clockTouch({ owner, name }: Pick<Clock, 'owner' | 'name'>): Touch {
  return { kind: isSwitch(owner) ? 'switch' : 'device', name };
}

/** `cam-3 in domain 127 in rig Heron`. */
export function clockSubject({ name, domain, rig }: Pick<Clock, 'name' | 'domain' | 'rig'>): string {
  return `${name} in domain ${domain}${inRig(rig)}`;
}

/** `domain 127 in rig Heron`, `domain 127 in rigs Heron and Dunlin` where an island joins several. */
export function islandSubject({ group, clocks }: Pick<Island, 'group' | 'clocks'>): string {
  const rigs = [...new Set(clocks.map(({ rig }) => rig.name))].filter((name) => name !== '').sort();
  const where = rigs.length === 0 ? '' : ` in ${agree(rigs.length, 'rig')} ${listNames(rigs, rigs.length)}`;
  return `domain ${group.domain}${where}`;
}
