import {
  addressesOn,
  boxTouch,
  byLabel,
  citedFor,
  clause,
  defineRule,
  formatAddress,
  formatPrefix,
  inPrefix,
  isInterface,
  isIPv4,
  isLinkLocal,
  listNames,
  mark,
  protocolName,
  subnetFor,
  vlanSubject,
  heldLabel,
  type Address,
  type Held,
  type Model,
  type Protocol,
  type Querier,
  type Severity,
  type Vlan,
} from '../../../src/lint/rule.js';

const SOURCES = [clause('RFC 4541', '2.1.1'), clause('RFC 3376', '6.6.2'), clause('RFC 3810', '5.1.14')];

export default defineRule({
  id: 'igmp/querier-address',
  summary: 'A querier has no address, or not one it can query from',
  severity: 'error',
  sources: SOURCES,
  needs: ['queriers'],
  *check({ plan, model }) {
    for (const vlan of plan.vlans) {
      for (const protocol of ['igmp', 'mld'] as const) {
        for (const querier of vlan[protocol]?.queriers ?? []) {
          const fault = faultOf(querier, vlan, protocol, model);
          if (fault === undefined) continue;
          const name = querier.on?.name ?? 'a querier';
          const address = querier.address === undefined ? 'no address' : formatAddress(querier.address);
          yield {
            subject: `${protocolName(protocol)} in ${vlanSubject(vlan)}: ${querier.on?.name ?? ''} ${address}`,
            parties: [vlan.name, ...(querier.on === undefined ? [] : [querier.on.name])],
            severity: fault.severity,
            what: fault.what,
            at: mark(querier, `${name}: ${address}`, querier.address === undefined ? 'on' : 'address'),
            others:
              fault.holder === undefined
                ? []
                : [mark(fault.holder.owner, `${heldLabel(fault.holder)}: holds ${address}`, fault.holder.key)],
            onAir: fault.onAir,
            fix: fault.fix,
            touch: boxTouch(querier.on, vlan),
            sources: citedFor(protocol, SOURCES),
          };
        }
      }
    }
  },
});

interface Fault {
  readonly severity: Severity;
  readonly what: string;
  readonly onAir: string;
  readonly fix: string;
  readonly holder?: Held;
}

const ELECTION =
  'the election does not go as planned: who queries, and where all streams are carried, is left to chance';

function faultOf(querier: Querier, vlan: Vlan, protocol: Protocol, model: Model): Fault | undefined {
  const { on, address } = querier;
  const who = on?.name ?? 'the querier';
  const where = `in VLAN ${vlan.name}`;
  const held = byLabel(addressesOn(on, vlan, protocol, model.addressing).map(formatAddress), (one) => one);
  const use =
    held.length > 0
      ? `write ${listNames(held, 3)}, which ${who} holds there`
      : `give ${who} ${protocol === 'igmp' ? `a free address of the subnet of VLAN ${vlan.name}` : 'a link-local address (fe80::/10)'} to query from`;
  if (address === undefined) {
    if (held.length === 0) return undefined;
    return {
      severity: 'note',
      what: `${who} is a querier ${where} without an address in the plan, though it holds ${listNames(held, 3)} there`,
      onAir: `nothing yet; the lowest address wins the election, and nobody can read here who that is`,
      fix: `write \`address: ${held[0] ?? ''}\` beside it`,
    };
  }
  if (BigInt(address) === 0n) {
    return {
      severity: 'error',
      what: `${who} queries from ${formatAddress(address)} ${where}`,
      onAir:
        'such queries take no part in the election and make no port a router port: joins do not cross to other switches, and streams there never arrive',
      fix: use,
    };
  }
  if (protocol === 'mld') return queryOf6(address, who, where, use);
  if (!isIPv4(address))
    return {
      severity: 'error',
      what: `${who} is to query IGMP ${where} from ${formatAddress(address)}, which is an IPv6 address`,
      onAir: ELECTION,
      fix: use,
    };
  if (held.length > 0 && !held.includes(formatAddress(address))) {
    return {
      severity: 'error',
      what: `${who} is to query ${where} from ${formatAddress(address)}, but holds ${listNames(held, 3)} there`,
      onAir: ELECTION,
      fix: use,
    };
  }
  const other = (model.addressing.byVlan.get(vlan) ?? []).find((one) => one.address === address);
  if (held.length === 0 && on !== undefined && other !== undefined && boxOf(other) !== on) {
    return {
      severity: 'error',
      what: `${who} is to query ${where} from ${formatAddress(address)}, which is the address of ${heldLabel(other)}`,
      onAir: `two boxes answer to one address: ${ELECTION}`,
      fix: use,
      holder: other,
    };
  }
  const subnet = subnetFor(vlan, address);
  // Where the box holds it too, the address itself is at fault, and the rules on hosts and subnets say so.
  if (subnet === undefined || inPrefix(address, subnet) || held.includes(formatAddress(address))) return undefined;
  return {
    severity: 'error',
    what: `${who} is to query ${where} from ${formatAddress(address)}, outside its subnet ${formatPrefix(subnet)}`,
    onAir: `switches and hosts may take its queries for forged and drop them, and ${ELECTION}`,
    fix: use,
  };
}

function queryOf6(address: Address, who: string, where: string, use: string): Fault | undefined {
  if (!isIPv4(address) && isLinkLocal(address)) return undefined;
  return {
    severity: 'error',
    what: `${who} is to query MLD ${where} from ${formatAddress(address)}, which is no link-local address`,
    onAir:
      'hosts and switches drop MLD queries that do not come from a link-local address: memberships are forgotten as if nobody queried',
    fix: use,
  };
}

function boxOf({ owner }: Held): unknown {
  return isInterface(owner) ? owner.device : owner.switch;
}
