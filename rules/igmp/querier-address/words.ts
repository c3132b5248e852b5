import { listNames, type Device, type FindingWords, type Switch, type Vlan } from '../../../src/doors/rule.js';
import type { Protocol } from '../../../src/doors/igmp.js';

interface Common {
  readonly protocol: Protocol;
  readonly vlan: Vlan;
  readonly on: Switch | Device | undefined;
  /** Addresses it holds in the VLAN and can query from. */
  readonly held: readonly string[];
}

interface Stated extends Common {
  readonly address: string;
}

export type Facts =
  | (Common & { readonly form: 'none' })
  | (Stated & { readonly form: 'unspecified' | 'notLinkLocal' | 'notIPv4' | 'notHeld' })
  | (Stated & { readonly form: 'heldByAnother'; readonly holder: string })
  | (Stated & { readonly form: 'outsideSubnet'; readonly subnet: string });

/** The querier, and who else holds its address. */
export type Note = 'querier' | 'holder';

const ELECTION =
  'the election does not go as planned: who queries, and where all streams are carried, is left to chance';

export function words(facts: Facts): FindingWords<Note> {
  const address = facts.form === 'none' ? 'no address' : facts.address;
  return {
    ...sentences(facts),
    label: (name, note) => `${name}: ${note === 'holder' ? 'holds ' : ''}${address}`,
  };
}

function sentences(facts: Facts): FindingWords<Note> {
  const { vlan, on, held, protocol } = facts;
  const who = on?.name ?? 'the querier';
  const where = `in VLAN ${vlan.name}`;
  const fix =
    held.length > 0
      ? `write ${listNames(held, 3)}, which ${who} holds there`
      : `give ${who} ${protocol === 'igmp' ? `a free address of the subnet of VLAN ${vlan.name}` : 'a link-local address (fe80::/10)'} to query from`;
  switch (facts.form) {
    case 'none':
      return {
        what: `${who} is a querier ${where} without an address in the plan, though it holds ${listNames(held, 3)} there`,
        onAir: 'nothing yet; the lowest address wins the election, and nobody can read here who that is',
        fix: `write \`address: ${held[0] ?? ''}\` beside it`,
      };
    case 'unspecified':
      return {
        what: `${who} queries from ${facts.address} ${where}`,
        onAir:
          'such queries take no part in the election and make no port a router port: joins do not cross to other switches, and streams there never arrive',
        fix,
      };
    case 'notLinkLocal':
      return {
        what: `${who} is to query MLD ${where} from ${facts.address}, which is no link-local address`,
        onAir:
          'hosts and switches drop MLD queries that do not come from a link-local address: memberships are forgotten as if nobody queried',
        fix,
      };
    case 'notIPv4':
      return {
        what: `${who} is to query IGMP ${where} from ${facts.address}, which is an IPv6 address`,
        onAir: ELECTION,
        fix,
      };
    case 'notHeld':
      return {
        what: `${who} is to query ${where} from ${facts.address}, but holds ${listNames(held, 3)} there`,
        onAir: ELECTION,
        fix,
      };
    case 'heldByAnother':
      return {
        what: `${who} is to query ${where} from ${facts.address}, which is the address of ${facts.holder}`,
        onAir: `two boxes answer to one address: ${ELECTION}`,
        fix,
      };
    case 'outsideSubnet':
      return {
        what: `${who} is to query ${where} from ${facts.address}, outside its subnet ${facts.subnet}`,
        onAir: `switches and hosts may take its queries for forged and drop them, and ${ELECTION}`,
        fix,
      };
  }
}
