import {
  agree,
  counted,
  formatRate,
  legLabel,
  listNames,
  type FindingWords,
  type Interface,
  type Leg,
  type Switch,
  type Vlan,
} from '../../../src/doors/rule.js';
import { hostPortWords, verbOf } from '../../../src/doors/igmp.js';

export interface Facts {
  /** Where groups nobody joined are flooded: `VLAN red-video`. */
  readonly where: string;
  readonly vlans: readonly Vlan[];
  /** Who says so first: a VLAN, or a switch where no VLAN does. */
  readonly by: { readonly vlan: Vlan } | { readonly switch: Switch };
  /** Streams nobody takes. */
  readonly legs: readonly Leg[];
  /** What they put on each host's port. */
  readonly floodBps: number;
  /** The host with the slowest port, and what that port can do. */
  readonly slowest: Interface;
  readonly rateBps: number;
}

/** Who floods, and a stream that is flooded. */
export type Note = 'floods' | 'untaken';

export function words({ where, vlans, by, legs, floodBps, slowest, rateBps }: Facts): FindingWords<Note> {
  const count = legs.length;
  const percent = Math.round((floodBps / rateBps) * 100);
  const drop = 'vlan' in by ? `in VLAN ${by.vlan.name}` : `on switch ${by.switch.name}`;
  return {
    what:
      `${where} ${verbOf({ vlans }, 'floods', 'flood')} groups nobody joined: ${formatRate(floodBps)} of ${counted(count, 'stream')} nobody takes (${listNames(legs.map(legLabel), 3)})` +
      ` ${agree(count, 'reaches', 'reach')} every host port, ${percent} % of the slowest, ${hostPortWords(slowest, rateBps)}`,
    onAir: `from the moment ${agree(count, 'it starts', 'they start')}, ${hostPortWords(slowest, undefined)} has ${percent} % less room for what it needs, and small hosts may drop packets or miss queries`,
    fix: `set \`unregistered: drop\` ${drop}, or do not start ${agree(count, 'that stream', 'those streams')}`,
    label: (name, note) => `${name}: ${note === 'floods' ? 'floods groups nobody joined' : 'nobody takes it'}`,
  };
}
