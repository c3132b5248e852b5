import { counted, formatRate, snoopingWords, type FindingWords, type Vlan } from '../../../src/doors/rule.js';
import { protocolName, slowestWords, verbOf, type FloodedHost, type Protocol } from '../../../src/doors/igmp.js';

export interface Facts {
  readonly protocol: Protocol;
  /** Where nothing snoops: `VLAN red-video`. */
  readonly where: string;
  readonly vlans: readonly Vlan[];
  /** The VLANs that turn snooping off. */
  readonly off: readonly Vlan[];
  readonly streams: number;
  /** Streams of unknown rate, which are in none of the figures. */
  readonly unrated: number;
  /** Most that reaches a host without its asking; 0 where no rate is known. */
  readonly unwantedBps: number;
  readonly slowest: FloodedHost | undefined;
  /** Boxes that are planned to query there. */
  readonly queriers: readonly string[];
  /** Whether a multicast router queries there. */
  readonly routed: boolean;
}

export type Note = 'off';

export function words(facts: Facts): FindingWords<Note> {
  const { protocol, where, off, streams, unwantedBps, queriers, routed } = facts;
  const slowest = slowestWords(facts);
  const reaches =
    unwantedBps === 0 ? '' : `: up to ${formatRate(unwantedBps)} that nobody there asked for reaches each host port`;
  return {
    what: `${protocolName(protocol)} snooping is off in ${where}, which ${verbOf(facts, 'carries', 'carry')} ${counted(streams, 'stream')}${reaches}`,
    onAir: `every stream goes to every port${slowest === undefined ? '' : `; ${slowest}`}; small hosts may drop packets of what they need`,
    fix: snoopingWords(
      off.map(({ name }) => name),
      queriers,
      routed,
    ),
    label: (name) => `${name}: ${protocolName(protocol)} snooping is off`,
  };
}
