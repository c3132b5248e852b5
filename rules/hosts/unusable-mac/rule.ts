import {
  byLabel,
  clause,
  defineRule,
  formatMac,
  forwards,
  isNonEmpty,
  mapAll,
  mark,
  noted,
  touchOfOwner,
  type Model,
} from '../../../src/doors/rule.js';
import { holderLabel, isGroupMac, unusableMac, type Mac, type UnusableMac } from '../../../src/doors/hosts.js';
import { words, type Facts } from './words.js';

const NONE = [clause('RFC 9542', '2.1')];
const GROUP = [...NONE, clause('RFC 1112', '6.4')];
const VIRTUAL = [clause('RFC 9568', '7.3')];

export default defineRule<Facts, 'read-label'>({
  id: 'hosts/unusable-mac',
  summary: 'The MAC address is one no interface can have',
  severity: 'error',
  people: 'only the label of the box says its MAC',
  sources: [...GROUP, ...VIRTUAL],
  needs: ['macs'],
  brief: 'impossible MAC',
  explains: ['unusable MAC'],
  harm: 'unicast',
  *check({ model }) {
    for (const [mac, kind] of unusableMacs(model)) {
      const virtual = kind === 'virtual-router';
      const all = model.owners.byMac.get(mac) ?? [];
      const owners = byLabel(virtual ? all.filter((owner) => !forwards(owner)) : all, holderLabel);
      if (!isNonEmpty(owners)) continue;
      const [at, ...others] = mapAll(owners, (owner) => mark(owner, holderLabel(owner), 'mac'));
      yield {
        subject: formatMac(mac),
        parties: owners.map(holderLabel),
        severity: virtual ? 'warning' : 'error',
        facts: { mac: formatMac(mac), holders: owners.map(holderLabel), kind },
        at: noted(at, 'read-label'),
        others,
        touch: touchOfOwner(owners[0]),
        sources: virtual ? VIRTUAL : isGroupMac(mac) ? GROUP : NONE,
      };
    }
  },
  words,
});

function unusableMacs({ plan: { switches }, unusualInterfaces: { oddMac } }: Model): ReadonlyMap<Mac, UnusableMac> {
  const found = new Map<Mac, UnusableMac>();
  for (const list of [oddMac, ...switches.map(({ addresses }) => addresses)]) {
    for (const { mac } of list) {
      const kind = mac === undefined ? undefined : unusableMac(mac);
      if (mac !== undefined && kind !== undefined) found.set(mac, kind);
    }
  }
  return found;
}
