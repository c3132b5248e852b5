import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  formatRange,
  freeStretch,
  gatewaysOf,
  heldLabel,
  heldMark,
  inRange,
  isInterface,
  listNames,
  mark,
  ofRig,
  otherEntries,
  sharedVlans,
  touchOfOwner,
  vlanSubject,
  type Address,
  type AddressRange,
  type Held,
  type Mark,
  type Model,
  type Vlan,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'hosts/in-dhcp-range',
  summary: 'A fixed address lies in the range DHCP hands out',
  severity: 'error',
  sources: [clause('RFC 2131', '2.2'), clause('RFC 2131', '3.1'), clause('RFC 5227', '1')],
  needs: ['dhcp'],
  *check({ plan, model }) {
    const offered = new Set<Vlan>();
    const othersOf = otherEntries(sharedVlans({ vlans: plan.vlans, domains: model.domains }));
    for (const vlan of plan.vlans) {
      const { dhcp } = vlan;
      if (dhcp === undefined) continue;
      const own = fixedIn(vlan, dhcp, model);
      const abroad = fixedAbroad(othersOf(vlan), dhcp, own, model);
      const fixed = byLabel([...own, ...abroad], (one) => one.label);
      const [first, ...rest] = fixed;
      if (first === undefined) continue;
      const range = formatRange(dhcp);
      const vlanMark = mark(vlan, `VLAN ${vlan.name} hands out ${range}`, 'dhcp');
      const free =
        first.held !== undefined && rest.length === 0
          ? model.proposals.address(first.held.vlan, first.address, first.held.owner)
          : undefined;
      const shorter = rangeWithout(
        dhcp,
        fixed.map((one) => one.address),
      );
      const entries = [vlan, ...othersOf(vlan)];
      // Two entries of one VLAN must not be offered the same addresses.
      const elsewhere =
        shorter === undefined && abroad.length > 0 && !entries.some((one) => offered.has(one))
          ? freeStretch(vlan, entries, model.addressing)
          : undefined;
      if (elsewhere !== undefined) offered.add(vlan);
      const apart = shorter ?? elsewhere;
      yield {
        subject: vlanSubject(vlan),
        parties: [vlan.name, ...fixed.map((one) => one.label)],
        what: `DHCP in VLAN ${vlan.name}${abroad.length === 0 ? '' : ofRig(vlan.rig)} hands out ${range}, which holds ${fixed.length === 1 ? 'the fixed address' : `${fixed.length} fixed addresses:`} ${listNames(fixed.map((one) => `${formatAddress(one.address)} (${one.label})`))}`,
        at: rest.length === 0 ? first.mark : vlanMark,
        others: rest.length === 0 ? [vlanMark] : fixed.map((one) => one.mark),
        onAir:
          'the server gives the address to another box while this one is off: once both are on, each drops out for moments at a time',
        fix: [
          ...(apart === undefined ? [] : [`let DHCP hand out ${formatRange(apart)} only`]),
          `${apart === undefined ? '' : 'or '}move the fixed ${fixed.length === 1 ? 'address' : 'addresses'} out of the range${free === undefined ? '' : `, to ${formatAddress(free)}`}`,
          ...(abroad.length === 0 ? [] : [`or switch this server off while the rigs are joined`]),
        ].join(', '),
        touch:
          rest.length === 0 && first.held !== undefined
            ? touchOfOwner(first.held.owner)
            : { kind: 'vlan', name: vlan.name },
      };
    }
  },
});

interface Fixed {
  readonly label: string;
  readonly address: Address;
  readonly mark: Mark;
  readonly held?: Held;
}

function fixedIn(vlan: Vlan, dhcp: AddressRange, model: Model): readonly Fixed[] {
  const fixed: Fixed[] = [];
  const seen = new Set<Address>();
  for (const held of model.addressing.byVlan.get(vlan) ?? []) {
    if (!inRange(held.address, dhcp) || (isInterface(held.owner) && held.owner.dhcp)) continue;
    seen.add(held.address);
    fixed.push({
      label: heldLabel(held),
      address: held.address,
      mark: heldMark(held, formatAddress(held.address)),
      held,
    });
  }
  for (const { address, key } of gatewaysOf(vlan)) {
    if (!inRange(address, dhcp) || seen.has(address)) continue;
    seen.add(address);
    fixed.push({ label: `gateway of ${vlan.name}`, address, mark: mark(vlan, `gateway of VLAN ${vlan.name}`, key) });
  }
  for (const querier of [...(vlan.igmp?.queriers ?? []), ...(vlan.mld?.queriers ?? [])]) {
    const { address } = querier;
    if (address === undefined || !inRange(address, dhcp) || seen.has(address)) continue;
    seen.add(address);
    fixed.push({
      label: querier.on === undefined ? `querier of ${vlan.name}` : `querier ${querier.on.name}`,
      address,
      mark: mark(querier, `querier of VLAN ${vlan.name}`, 'address'),
    });
  }
  return fixed;
}

/** Fixed addresses of the other rigs' entries of the VLAN, without those that their own range holds too. */
function fixedAbroad(
  others: readonly Vlan[],
  dhcp: AddressRange,
  own: readonly Fixed[],
  model: Model,
): readonly Fixed[] {
  const seen = new Set(own.map(({ address }) => address));
  return others.flatMap((other) =>
    fixedIn(other, dhcp, model)
      .filter(({ address }) => !seen.has(address) && (other.dhcp === undefined || !inRange(address, other.dhcp)))
      .map((one) => ({ ...one, label: `${one.label}${ofRig(other.rig)}` })),
  );
}

/** The longer of what is left below and above all the fixed addresses, when it is worth handing out. */
function rangeWithout(dhcp: AddressRange, addresses: readonly Address[]): AddressRange | undefined {
  let low = dhcp.last;
  let high = dhcp.first;
  for (const address of addresses) {
    if (address < low) low = address;
    if (address > high) high = address;
  }
  const below = Number(low) - Number(dhcp.first);
  const above = Number(dhcp.last) - Number(high);
  if (Math.max(below, above) * 2 < Number(dhcp.last) - Number(dhcp.first)) return undefined;
  return below >= above ? { first: dhcp.first, last: step(low, -1) } : { first: step(high, 1), last: dhcp.last };
}

function step(address: Address, by: 1 | -1): Address {
  return typeof address === 'number' ? address + by : address + BigInt(by);
}
