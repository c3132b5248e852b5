import { agree, listNames, type FindingWords } from '../../../src/doors/rule.js';
import type { OwnTimeReason } from '../../../src/doors/timing.js';

export interface Facts {
  readonly reason: OwnTimeReason;
  readonly domain: number;
  /** Those that keep their own time. */
  readonly own: readonly string[];
  /** Those of them that are to follow only; the others are boundary clocks, or meant to lead. */
  readonly endDevices: readonly string[];
  /** Those that follow them. */
  readonly followers: readonly string[];
  /** Meant to lead in the rig and domain. */
  readonly meant: readonly string[];
  readonly clockClass: number;
  /** Networks on which the domain is to run; undefined where the plan does not say. */
  readonly networks: readonly string[] | undefined;
  readonly isPlaced: boolean;
  /** Whether each is a switch that no device follows. */
  readonly isSwitches: boolean;
}

export type Note = 'own time' | 'meant';

export function words(facts: Facts): FindingWords<Note> {
  const { own, followers, domain, reason, isPlaced, isSwitches } = facts;
  const led =
    followers.length === 0
      ? ''
      : `, and ${listNames(followers)} ${agree(followers.length, 'follows', 'follow')} ${agree(own.length, 'it', 'them')}`;
  const [itKeeps, its] = [agree(own.length, 'keeps', 'keep'), agree(own.length, 'its', 'their')];
  const { why, fix } = reasonWords(facts);
  const doubt = isPlaced || reason === 'nobody meant' ? '' : ', as far as the plan says where clocks stand';
  return {
    what: `in domain ${domain} ${listNames(own)} ${itKeeps} ${its} own time${led}: ${why}${doubt}`,
    onAir:
      reason === 'nobody meant'
        ? 'whichever box has the lowest values leads, and another one after a change: time of day is wrong from the start, and everything steps when that box is switched off'
        : isSwitches
          ? 'nothing yet: what is plugged in there gets this time, and drifts against the rest of the rig'
          : 'pictures and sound from there drift against the rest of the rig from switch-on, with repeated frames and clicks, and no box shows a fault',
    fix: isPlaced ? fix : `state \`vlan\` and \`port\` of their interfaces, and of those meant to lead; else ${fix}`,
    label: (name, note) => (note === 'meant' ? `${name}: meant to lead` : `${name}: keeps its own time`),
  };
}

function reasonWords({ reason, own, endDevices, meant, clockClass, networks }: Facts): {
  readonly why: string;
  readonly fix: string;
} {
  const [it, itHears] = [agree(own.length, 'it', 'they'), agree(own.length, 'hears', 'hear')];
  const leaders = listNames(meant);
  const passing = own.filter((one) => !endDevices.includes(one));
  const follow = [
    ...(endDevices.length === 0 ? [] : [`set slaveOnly true and priority1 255 on ${listNames(endDevices)}`]),
    ...(passing.length === 0
      ? []
      : [`give ${listNames(passing)} clock class 248 and a priority1 above that of ${leaders}`]),
  ].join(', and ');
  switch (reason) {
    case 'class':
      return {
        why: `of clock class ${clockClass} none follows, though ${leaders} ${agree(meant.length, 'is', 'are')} better`,
        fix: follow,
      };
    case 'outranks':
      return {
        why: `${agree(own.length, 'its claim goes', 'their claims go')} before that of ${leaders}`,
        fix: follow,
      };
    case 'open':
      return {
        why: `${it} may go before ${leaders}, whose clock class the plan does not state`,
        fix: `state the clockClass of ${leaders}, and set slaveOnly true on what only follows`,
      };
    case 'unheard':
      return {
        why: `${it} ${itHears} no Announce of ${meant.length === 0 ? 'a clock meant to lead' : leaders}`,
        fix: `bring the PTP of ${meant.length === 0 ? 'a grandmaster' : leaders} to ${listNames(own)}, through boundary clocks that hear ${agree(meant.length, 'it', 'them')}, or name a grandmaster that stands there`,
      };
    case 'no port':
      return {
        why: `${it} ${agree(own.length, 'has', 'have')} no interface on which PTP runs${networks === undefined ? '' : `; the domain runs on ${listNames(networks)}`}`,
        fix: `give ${listNames(own)} an interface there, or list its PTP interfaces in \`ptp: {interfaces: […]}\`, or state mode none`,
      };
    case 'nobody meant':
      return {
        why: `the plan names nobody to lead this domain, and the election decides`,
        fix: `name who leads it, in \`timing: {domains: [{number: …, grandmasters: […]}]}\`, or set the clocks to a domain that has grandmasters`,
      };
  }
}
