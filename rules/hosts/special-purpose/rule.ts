import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  formatPrefix,
  heldLabel,
  heldMark,
  heldSubject,
  hostAddressFault,
  inPrefix,
  listNames,
  mark,
  subnetFor,
  subnetKey,
  touchOfOwner,
  vlanSubject,
  type Held,
  type HostAddressFault,
  type Vlan,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'hosts/special-purpose',
  summary: 'An interface has an address that is set aside for something else',
  severity: 'error',
  sources: [
    clause('RFC 6890', '2.2.1'),
    clause('RFC 1122', '3.2.1.3'),
    clause('RFC 1112', '4'),
    clause('RFC 3927', '1.6'),
    clause('RFC 5737', '4'),
    clause('RFC 6598', '4'),
    clause('RFC 2544', 'C.2.2'),
  ],
  needs: ['addresses'],
  *check({ model }) {
    const causes = new Map<string, Cause>();
    for (const held of model.addressing.held) {
      const fault = hostAddressFault(held.address);
      if (fault === undefined) continue;
      const { vlan } = held;
      const subnet = vlan === undefined ? undefined : subnetFor(vlan, held.address);
      const inSubnet =
        vlan !== undefined &&
        subnet !== undefined &&
        inPrefix(subnet.network, fault.block) &&
        subnet.length >= fault.block.length;
      const subject = inSubnet ? `${formatPrefix(fault.block)} in ${vlanSubject(vlan)}` : heldSubject(held);
      const cause = causes.get(subject);
      if (cause === undefined) causes.set(subject, { subject, fault, vlan: inSubnet ? vlan : undefined, held: [held] });
      else cause.held.push(held);
    }
    for (const { subject, fault, vlan, held: all } of causes.values()) {
      const held = byLabel(all, heldLabel);
      const [first, ...rest] = held;
      if (first === undefined) continue;
      const who = listNames(held.map((one) => `${formatAddress(one.address)} of ${heldLabel(one)}`));
      const subnet = vlan === undefined ? undefined : subnetFor(vlan, first.address);
      yield {
        subject,
        parties: [...held.map(heldLabel), ...(vlan === undefined ? [] : [vlan.name])],
        severity: fault.severity,
        what:
          subnet === undefined || vlan === undefined
            ? `${who} ${held.length === 1 ? 'lies' : 'lie'} in ${block(fault)}`
            : `VLAN ${vlan.name} uses ${subnet.length === fault.block.length ? '' : `${formatPrefix(subnet)}, part of `}${block(fault)}: ${who}`,
        at:
          subnet === undefined || vlan === undefined
            ? heldMark(first, fault.name)
            : mark(vlan, `VLAN ${vlan.name}: ${fault.name}`, subnetKey(vlan, subnet)),
        others: (subnet === undefined ? rest : held).map((one) => heldMark(one)),
        onAir: ON_AIR[fault.severity],
        fix: `use private addresses: ${typeof first.address === 'number' ? '10.0.0.0/8, 172.16.0.0/12 or 192.168.0.0/16' : 'a /48 of your own in fd00::/8'}`,
        touch: vlan === undefined ? touchOfOwner(first.owner) : { kind: 'vlan', name: vlan.name },
      };
    }
  },
});

interface Cause {
  readonly subject: string;
  readonly fault: HostAddressFault;
  /** The VLAN whose whole subnet lies in the block. */
  readonly vlan: Vlan | undefined;
  readonly held: Held[];
}

const ON_AIR = {
  error:
    'the box refuses the address, or nothing that is sent to it arrives: no control, no unicast, no way back to its streams',
  warning:
    'it may work on the bench; routers, filters and careful boxes drop such addresses, so it fails where another one is in the path',
  note: 'nothing as long as the rig keeps to itself; it collides with whoever uses the block for what it is meant for',
} as const;

/** `224.0.0.0/4, set aside as "Multicast" (RFC 1112 §4)`. */
function block({ block: prefix, name, citation }: HostAddressFault): string {
  return `${formatPrefix(prefix)}, set aside as "${name.replaceAll('"', '')}" (${citation})`;
}
