import { listNames, type FindingWords } from '../../../src/doors/rule.js';

export interface Facts {
  /** The VLAN, or several that are joined. */
  readonly where: string;
  readonly isJoined: boolean;
  /** Devices that hear each other's PTP there. */
  readonly hosts: readonly string[];
  /** The group of PTP. */
  readonly group: string;
  /** Whose settings say that it snoops. */
  readonly vlan: string;
}

export type Note = 'snoops' | 'ptp';

export function words({ where, isJoined, hosts, group, vlan }: Facts): FindingWords<Note> {
  return {
    what: `${where} ${isJoined ? 'carry' : 'carries'} PTP between ${listNames(hosts)} and ${isJoined ? 'their' : 'its'} switches snoop, but nobody queries: ${group} is pruned like any group`,
    onAir:
      'clocks lock at switch-on and all lose their grandmaster about four minutes later, when the memberships age out; pictures and sound then drift',
    fix: `plan a querier in ${vlan}, or turn snooping off there when it carries PTP only`,
    label: (name, note) => (note === 'snoops' ? `${name} snoops without a querier` : `${name}: PTP here`),
  };
}
