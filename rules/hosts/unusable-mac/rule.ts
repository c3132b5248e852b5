import {
  byLabel, clause, defineRule, formatMac, forwards, holderLabel, isGroupMac, isVirtualRouterMac, listNames, mark,
  touchOfOwner,
  type Mac, type Owner,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'hosts/unusable-mac',
  summary: 'The MAC address is one no interface can have',
  severity: 'error',
  sources: [clause('RFC 9542', '2.1'), clause('RFC 1112', '6.4'), clause('RFC 9568', '7.3')],
  needs: ['macs'],
  *check({ model }) {
    for (const [mac, all] of model.owners.byMac) {
      const kind = kindOf(mac);
      if (kind === undefined) continue;
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
      };
    }
  },
});

interface UnusableKind {
  readonly name: string;
  readonly onAir: string;
  readonly virtual: boolean;
}

const FOLLOWS = 'nothing by itself if only the plan is wrong; a DHCP reservation or a port filter made from it never fits the box';

function kindOf(mac: Mac): UnusableKind | undefined {
  if (mac === 0) return { name: 'all zeros, which stands for no MAC', onAir: FOLLOWS, virtual: false };
  if (mac === 0xffffffffffff) return { name: 'the broadcast address', onAir: SET, virtual: false };
  if (isGroupMac(mac)) return { name: `a group address${ofWhom(mac)}, not one interface's`, onAir: SET, virtual: false };
  if (!isVirtualRouterMac(mac)) return undefined;
  return { name: 'that of a virtual router, but the box does not route', onAir: FOLLOWS, virtual: true };
}

const SET = 'a box set to it is not heard: switches never learn a group address, and flood or drop whatever is sent to it';

/** RFC 1112 §6.4 and RFC 2464 §7 give IP groups these first octets. */
function ofWhom(mac: Mac): string {
  if (Math.floor(mac / 2 ** 23) === 0x01005e << 1) return ' (that of an IPv4 group)';
  return Math.floor(mac / 2 ** 32) === 0x3333 ? ' (that of an IPv6 group)' : '';
}
