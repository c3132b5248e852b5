import {
  formatRate,
  listNames,
  type FindingWords,
  type Interface,
  type NonEmpty,
  type Switch,
} from '../../../src/doors/rule.js';
import { hostPortWords, type Protocol } from '../../../src/doors/igmp.js';

/** What the switch floods of one VLAN. */
export interface FloodedVlan {
  readonly protocol: Protocol;
  /** `VLAN red-video`. */
  readonly where: string;
  /** Who gets most of what it did not ask for. */
  readonly host: Interface;
  readonly floodBps: number;
  readonly rateBps: number | undefined;
}

export interface Facts {
  readonly switch: Switch;
  readonly vlans: NonEmpty<FloodedVlan>;
}

export type Note = 'off';

export function words({ switch: one, vlans }: Facts): FindingWords<Note> {
  const parts = vlans.map(
    ({ where, host, floodBps, rateBps }) => `${formatRate(floodBps)} in ${where} (${hostPortWords(host, rateBps)})`,
  );
  return {
    what: `${one.name} does not snoop where the others do: its hosts get streams they did not ask for, up to ${listNames(parts)}`,
    onAir:
      'whatever passes the switch leaves by each of its ports; small hosts may drop packets of what they need, and nothing of it shows elsewhere',
    fix: `turn snooping on at ${one.name}, or plug there only boxes that can take every stream of their VLAN`,
    label: (place) => `${place}: snooping is off`,
  };
}
