import {
  agree,
  counted,
  formatRate,
  legLabel,
  listNames,
  type FindingWords,
  type Leg,
  type NonEmpty,
  type Switch,
} from '../../../src/doors/rule.js';
import { hostPortWords, protocolName, type FloodedHost, type Protocol } from '../../../src/doors/igmp.js';

export interface Facts {
  readonly protocol: Protocol;
  /** Where the others snoop: `VLAN red-video`. */
  readonly where: string;
  readonly switches: NonEmpty<Switch>;
  /** Streams that come to a host which did not ask for them. */
  readonly legs: readonly Leg[];
  /** Most that a host gets of them. */
  readonly mostBps: number;
  /** The host with the slowest port among them. */
  readonly slowest: FloodedHost | undefined;
}

export type Note = 'off';

export function words({ protocol, where, switches, legs, mostBps, slowest }: Facts): FindingWords<Note> {
  const names = switches.map(({ name }) => name);
  const name = protocolName(protocol);
  const count = legs.length;
  const atSlowest =
    slowest?.rateBps === undefined
      ? ''
      : `; ${hostPortWords(slowest.host, slowest.rateBps)} gets ${formatRate(slowest.floodBps)}`;
  return {
    what: `${listNames(names, 3)} ${agree(names.length, 'does', 'do')} not snoop ${name} in ${where}: hosts there get up to ${formatRate(mostBps)} that they did not ask for, of ${counted(count, 'stream')} (${listNames(legs.map(legLabel), 3)})`,
    onAir: `whatever passes ${agree(names.length, 'that switch', 'those switches')} leaves by each of its ports${atSlowest}; small hosts may drop packets of what they need`,
    fix: `turn snooping on at ${listNames(names, 3)}, or plug there only boxes that bear every stream of the VLAN`,
    label: (place) => `${place}: snooping is off`,
  };
}
