import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  formatPrefix,
  heldLabel,
  heldMark,
  heldSubject,
  inPrefix,
  inRange,
  isGloballyReachableUnicast,
  isIPv4,
  listNames,
  mark,
  rangeOf,
  rigOf,
  specialPurpose,
  subnetFor,
  subnetKey,
  touchOfOwner,
  vlanSubject,
  type Held,
  type Model,
  type Vlan,
} from '../../../src/lint/rule.js';

const IPV4 = [clause('RFC 1918', '3'), clause('RFC 1918', '4')];
const IPV6 = [clause('RFC 4193', '3')];

export default defineRule({
  id: 'hosts/public-address',
  summary: 'An interface has a public address that the house does not hold',
  severity: 'warning',
  sources: [...IPV4, ...IPV6],
  needs: ['addresses'],
  *check({ model }) {
    let odd: ReadonlySet<Held> | undefined;
    const causes = new Map<string, { readonly vlan: Vlan | undefined; readonly held: Held[] }>();
    for (const held of model.addressing.held) {
      const { address, vlan } = held;
      if (!isGloballyReachableUnicast(address) || specialPurpose(address) !== undefined) continue; // hosts/special-purpose
      if (rigOf(held.owner).house.prefixes.some((prefix) => inPrefix(address, prefix))) continue;
      const subnet = vlan === undefined ? undefined : subnetFor(vlan, address);
      const inSubnet = vlan !== undefined && subnet !== undefined && inRange(address, rangeOf(subnet));
      if (!inSubnet && subnet !== undefined && (odd ??= oddOnes(model)).has(held)) continue; // hosts/outside-subnet
      const subject = inSubnet ? `${formatPrefix(subnet)} in ${vlanSubject(vlan)}` : heldSubject(held);
      const cause = causes.get(subject);
      if (cause === undefined) causes.set(subject, { vlan: inSubnet ? vlan : undefined, held: [held] });
      else cause.held.push(held);
    }
    for (const [subject, { vlan, held: all }] of causes) {
      const held = byLabel(all, heldLabel);
      const [first, ...rest] = held;
      if (first === undefined) continue;
      const who = listNames(held.map((one) => `${formatAddress(one.address)} of ${heldLabel(one)}`));
      const subnet = vlan === undefined ? undefined : subnetFor(vlan, first.address);
      const whole = vlan !== undefined && subnet !== undefined;
      yield {
        subject,
        parties: [...held.map(heldLabel), ...(whole ? [vlan.name] : [])],
        what: whole
          ? `VLAN ${vlan.name} uses public addresses, ${formatPrefix(subnet)}, that the house does not hold: ${who}`
          : `${who} ${held.length === 1 ? 'is a public address' : 'are public addresses'} that the house does not hold`,
        at: whole ? mark(vlan, `VLAN ${vlan.name}: public`, subnetKey(vlan, subnet)) : heldMark(first, 'public'),
        others: (whole ? held : rest).map((one) => heldMark(one)),
        onAir:
          'nothing inside the rig; over a circuit or the internet the true holder of the address cannot be reached, and answers to the box go there',
        fix: 'use private addresses, or write the block under `house: {prefixes: …}` if it is yours',
        sources: isIPv4(first.address) ? IPV4 : IPV6,
        touch: whole ? { kind: 'vlan', name: vlan.name } : touchOfOwner(first.owner),
      };
    }
  },
});

/** Addresses that `hosts/outside-subnet` or `hosts/prefix-differs` reports. */
function oddOnes({ addressing }: Model): ReadonlySet<Held> {
  return new Set([...addressing.fits.values()].flatMap((fit) => fit.odd));
}
