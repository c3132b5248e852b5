import {
  agree,
  linkLabel,
  listNames,
  withId,
  type FindingWords,
  type Link,
  type Vlan,
} from '../../../src/doors/rule.js';

export interface Facts {
  readonly domain: number;
  /** The one that the others follow, where they follow one; it may be a switch. */
  readonly leader: string;
  /** All devices out of reach, the leader among them. */
  readonly clocks: readonly string[];
  /** End devices that may lead and meet once the links carry the VLAN. */
  readonly couldLead: readonly string[];
  readonly meant: readonly string[];
  /** Their common VLAN and the links that do not carry it; undefined where no such links lead there. */
  readonly gap: { readonly vlan: Vlan; readonly links: readonly Link[] } | undefined;
}

/** A place that does not carry the VLAN; a grandmaster that is not heard. */
export type Note = 'without' | 'meant';

export function words({ domain, leader, clocks, couldLead, meant, gap }: Facts): FindingWords<Note> {
  const others = clocks.filter((one) => one !== leader);
  const led = others.length === 0 ? 'keeps its own time' : `leads ${listNames(others)}`;
  const named = gap && `${agree(gap.links.length, 'link')} ${listNames(gap.links.map(linkLabel))}`;
  return {
    what: `in domain ${domain} ${leader} ${led}: ${listNames(meant)}, meant to lead, ${agree(meant.length, 'does', 'do')} not reach ${others.length === 0 ? 'it' : 'them'}${gap === undefined ? '' : `, as ${named} ${agree(gap.links.length, 'does', 'do')} not carry ${withId(gap.vlan)}`}`,
    onAir: `${clocks.length === 1 ? 'it free-runs' : 'they keep one time among themselves'}, beside that of the rest of the rig: pictures and sound drift against it from switch-on, with repeated frames and clicks, and ${clocks.length === 1 ? 'the box itself shows' : 'each box shows'} no fault`,
    fix:
      gap === undefined
        ? `bring the network of ${listNames(meant)} to ${listNames(clocks)}, or name a grandmaster that stands there`
        : `add ${withId(gap.vlan)} to ${named}, at both ends${couldLead.length === 0 ? '' : `, and set slaveOnly true on ${listNames(couldLead)}: ${couldLead.length === 1 ? 'it is' : 'they are'} not meant to lead`}`,
    label: (name, note) => {
      if (note === 'without') return `${name} does not carry ${gap?.vlan.name ?? 'the VLAN'}`;
      return `${name}: meant to lead, and not heard here`;
    },
  };
}
