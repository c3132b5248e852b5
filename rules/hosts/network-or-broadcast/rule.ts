import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  formatPrefix,
  forwards,
  heldLabel,
  heldMark,
  heldSubject,
  hostAddressFault,
  inPrefix,
  isIPv4,
  networkOf,
  subnetFor,
  touchOfOwner,
  type Held,
  type Model,
  type Prefix,
} from '../../../src/lint/rule.js';

const IPV4 = [clause('RFC 1122', '3.2.1.3'), clause('RFC 3021', '2.1')];
const IPV6 = [clause('RFC 4291', '2.6.1'), clause('RFC 6164', '6')];

export default defineRule({
  id: 'hosts/network-or-broadcast',
  summary: 'A host has the network or broadcast address of its subnet',
  severity: 'error',
  sources: [...IPV4, ...IPV6],
  needs: ['addresses'],
  *check({ model }) {
    const faults = model.addressing.held.flatMap((held) => faultOf(held, model));
    for (const { held, subnet, kind } of byLabel(faults, (fault) => heldSubject(fault.held))) {
      const free = model.proposals.address(held.vlan, held.address, held.owner);
      yield {
        subject: heldSubject(held),
        parties: [heldLabel(held)],
        severity: kind === 'anycast' ? 'warning' : 'error',
        what: `${formatAddress(held.address)} of ${heldLabel(held)} is ${NAMES[kind]} of ${formatPrefix(subnet)}`,
        at: heldMark(held, `${NAMES[kind]} of ${formatPrefix(subnet)}`),
        onAir:
          kind === 'anycast'
            ? 'every router of the subnet answers for this address too: control and unicast of the box come and go once a router is on'
            : 'most boxes refuse the address and stay without one, or keep an old one; from others, neighbours drop what they get',
        fix: `give it another address of ${formatPrefix(subnet)}${free === undefined ? '' : `, such as ${formatAddress(free)}`}`,
        touch: touchOfOwner(held.owner),
        sources: isIPv4(held.address) ? IPV4 : IPV6,
      };
    }
  },
});

const NAMES = {
  network: 'the network address',
  broadcast: 'the broadcast address',
  anycast: "the routers' anycast address",
} as const;

interface Fault {
  readonly held: Held;
  readonly subnet: Prefix;
  readonly kind: keyof typeof NAMES;
}

const NONE: readonly Fault[] = [];

function faultOf(held: Held, model: Model): readonly Fault[] {
  const subnet = knownSubnet(held);
  const kind = subnet === undefined ? undefined : kindOf(held, subnet);
  if (subnet === undefined || kind === undefined) return NONE;
  if (model.addressing.fits.get(subnet)?.outvotedBy !== undefined) return NONE;
  if (hostAddressFault(held.address)?.severity === 'error') return NONE; // hosts/special-purpose
  return [{ held, subnet, kind }];
}

/** The VLAN's subnet, else the box's own. */
function knownSubnet(held: Held): Prefix | undefined {
  const { address, prefixLength, vlan } = held;
  const stated = vlan === undefined ? undefined : subnetFor(vlan, address);
  if (stated !== undefined) return stated;
  if (prefixLength === undefined) return undefined;
  const last = isIPv4(address) ? 30 : 126;
  if (prefixLength === 0 || prefixLength > last) return undefined;
  return { address, network: networkOf(address, prefixLength), length: prefixLength };
}

function kindOf(held: Held, subnet: Prefix): keyof typeof NAMES | undefined {
  const { address } = held;
  const { length, network } = subnet;
  if (length === 0 || !inPrefix(address, subnet)) return undefined;
  if (!isIPv4(address)) return address === network && length <= 126 && !forwards(held.owner) ? 'anycast' : undefined;
  if (length > 30) return undefined;
  return address === network ? 'network' : allHostBits(address, length) ? 'broadcast' : undefined;
}

function allHostBits(address: number, length: number): boolean {
  return (address | (0xffffffff << (32 - length))) === -1;
}
