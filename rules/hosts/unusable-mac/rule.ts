import {
  byLabel,
  clause,
  defineRule,
  formatMac,
  forwards,
  holderLabel,
  isGroupMac,
  isVirtualRouterMac,
  listNames,
  mark,
  touchOfOwner,
  type Mac,
  type Owner,
  type Plan,
} from '../../../src/lint/rule.js';

const NONE = [clause('RFC 9542', '2.1')];
const GROUP = [...NONE, clause('RFC 1112', '6.4')];
const VIRTUAL = [clause('RFC 9568', '7.3')];

export default defineRule({
  id: 'hosts/unusable-mac',
  summary: 'The MAC address is one no interface can have',
  severity: 'error',
  sources: [...GROUP, ...VIRTUAL],
  needs: ['macs'],
  *check({ plan, model }) {
    for (const [mac, kind] of unusableMacs(plan)) {
      const all = model.owners.byMac.get(mac) ?? [];
      const owners = byLabel(kind.virtual ? all.filter((owner) => !forwards(owner)) : all, holderLabel);
      const [first, ...rest] = owners;
      if (first === undefined) continue;
      yield {
        subject: formatMac(mac),
        parties: owners.map(holderLabel),
        severity: kind.virtual ? 'warning' : 'error',
        what: `MAC ${formatMac(mac)} of ${listNames(owners.map(holderLabel))} is ${kind.name}`,
        at: mark(first, `${holderLabel(first)}: write the MAC from its label`, 'mac'),
        others: rest.map((owner: Owner) => mark(owner, holderLabel(owner), 'mac')),
        onAir: kind.onAir,
        fix: `write the MAC from the label of ${owners.length === 1 ? 'the box' : 'each box'}, or leave it out until it is known`,
        touch: touchOfOwner(first),
        sources: kind.virtual ? VIRTUAL : isGroupMac(mac) ? GROUP : NONE,
      };
    }
  },
});

function unusableMacs({ interfaces, switches }: Plan): ReadonlyMap<Mac, UnusableKind> {
  const found = new Map<Mac, UnusableKind>();
  for (const list of [interfaces, ...switches.map(({ addresses }) => addresses)]) {
    for (const { mac } of list) {
      const kind = mac === undefined ? undefined : kindOf(mac);
      if (mac !== undefined && kind !== undefined) found.set(mac, kind);
    }
  }
  return found;
}

interface UnusableKind {
  readonly name: string;
  readonly onAir: string;
  readonly virtual: boolean;
}

const FOLLOWS =
  'a DHCP reservation or a port filter made from it never fits: the box comes up without its address, or its port is shut';

function kindOf(mac: Mac): UnusableKind | undefined {
  if (mac === 0) return { name: 'all zeros, which stands for no MAC', onAir: FOLLOWS, virtual: false };
  if (mac === 0xffffffffffff) return { name: 'the broadcast address', onAir: SET, virtual: false };
  if (isGroupMac(mac))
    return { name: `a group address${ofWhom(mac)}, not one interface's`, onAir: SET, virtual: false };
  if (!isVirtualRouterMac(mac)) return undefined;
  return { name: 'that of a virtual router, but the box does not route', onAir: FOLLOWS, virtual: true };
}

const SET =
  'a box set to it is not heard: switches never learn a group address, and flood or drop whatever is sent to it';

/** RFC 1112 §6.4 and RFC 2464 §7 give IP groups these first octets. */
function ofWhom(mac: Mac): string {
  if (Math.floor(mac / 2 ** 23) === 0x01005e << 1) return ' (that of an IPv4 group)';
  return Math.floor(mac / 2 ** 32) === 0x3333 ? ' (that of an IPv6 group)' : '';
}
