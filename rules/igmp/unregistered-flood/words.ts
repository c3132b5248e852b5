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
  /** Streams that come where nobody asked for them. */
  readonly legs: readonly Leg[];
  /** Those of them that somebody takes, beyond switches the report does not pass. */
  readonly unheard: readonly Leg[];
  /** What they put on the port of the slowest host. */
  readonly floodBps: number;
  /** The host with the slowest port, and what that port can do. */
  readonly slowest: Interface;
  readonly rateBps: number;
}

/** Who floods, and a stream that is flooded: nobody takes it, or no report for it comes by. */
export type Note = 'floods' | 'untaken' | 'unheard';

export function words({ where, vlans, by, legs, unheard, floodBps, slowest, rateBps }: Facts): FindingWords<Note> {
  const count = legs.length;
  const whose =
    unheard.length === 0
      ? 'nobody takes'
      : 'that nobody asks for behind the switches it floods from, as reports go towards the querier alone';
  const percent = Math.round((floodBps / rateBps) * 100);
  const drop = 'vlan' in by ? `in VLAN ${by.vlan.name}` : `on switch ${by.switch.name}`;
  return {
    what:
      `${where} ${verbOf({ vlans }, 'floods', 'flood')} groups nobody joined: ${formatRate(floodBps)} of ${counted(count, 'stream')} ${whose} (${listNames(legs.map(legLabel), 3)})` +
      ` ${agree(count, 'reaches', 'reach')} ${unheard.length === 0 ? 'every host port' : 'host ports'}, ${percent} % of the slowest, ${hostPortWords(slowest, rateBps)}`,
    onAir: `from the moment ${agree(count, 'it starts', 'they start')}, ${hostPortWords(slowest, undefined)} has ${percent} % less room for what it needs, and small hosts may drop packets or miss queries`,
    fix: `set \`unregistered: drop\` ${drop}${unheard.length > 0 ? '' : `, or do not start ${agree(count, 'that stream', 'those streams')}`}`,
    label: (name, note) => `${name}: ${LABELS[note]}`,
  };
}

const LABELS: Readonly<Record<Note, string>> = {
  floods: 'floods groups nobody joined',
  untaken: 'nobody takes it',
  unheard: 'its switch hears no report for it',
};
