import { listNames, type FindingWords } from '../../../src/doors/rule.js';

export interface Facts {
  /** Entries of one VLAN, with their rigs, and what each hands out. */
  readonly vlans: readonly string[];
  readonly ranges: readonly string[];
  /** All hand out the same: it may be one server, written down twice. */
  readonly oneServer: boolean;
  /** What all of them hand out. */
  readonly common: string | undefined;
  /** The entry to change, and what is left of its range. */
  readonly change: string;
  readonly rest: string | undefined;
}

/** Places are noted with their range. */
export function words({ vlans, ranges, oneServer, common, change, rest }: Facts): FindingWords<string> {
  const handsOut = oneServer
    ? `${ranges[0] ?? ''} in both`
    : listNames(ranges.map((range, index) => `${range} in ${vlans[index] ?? ''}`));
  const own = rest === undefined ? `give ${change} a range of its own` : `let DHCP in ${change} hand out ${rest} only`;
  const off = vlans.length > 2 ? 'all servers but one' : 'one of the two servers';
  return {
    what: `${listNames(vlans)} are one VLAN, and DHCP hands out ${handsOut}${oneServer || common === undefined ? '' : `: ${common} twice`}`,
    onAir: `${oneServer ? 'unless one server answers for both, ' : ''}each server gives its addresses without knowing of the other: two boxes get one address, and each drops out for moments at a time`,
    fix: `${own}, or switch ${off} off while the rigs are joined${oneServer ? '; if it is one server, write `dhcp` in one of the entries only' : ''}`,
    label: (name, range) => `${name} hands out ${range}`,
  };
}
