import { peopleDecide, readdress } from '../../../src/doors/cures.js';
import {
  addressClashes,
  clause,
  defineRule,
  formatAddress,
  isInterface,
  isIPv4,
  mark,
  noted,
  touchOfOwner,
  vlanSubject,
  type Address,
  type Owner,
  forwards,
  type Interface,
  type Model,
} from '../../../src/doors/rule.js';
import type { Several } from '../../../src/doors/hosts.js';
import { words, type Facts } from './words.js';

const IPV4 = [clause('RFC 5227', '1'), clause('RFC 826', 'Packet Reception'), clause('RFC 1122', '3.3.4.1')];
const IPV6 = [clause('RFC 4862', '5.4')];
const GATEWAY = [clause('RFC 9568', '7.3')];

export default defineRule<Facts, 'change'>({
  id: 'hosts/duplicate-address',
  summary: 'Two interfaces hold one address',
  severity: 'error',
  sources: [...IPV4, ...IPV6, ...GATEWAY],
  needs: ['addresses'],
  brief: 'address held twice',
  explains: ['duplicate address'],
  harm: 'unicast',
  *check({ model }) {
    for (const { address, owners: unsorted, label, meets, cut, assumed, unsaidGateway, oneMac } of addressClashes(
      model,
    )) {
      const owners = keepersFirst(model, address, unsorted);
      const [first, second, ...rest] = owners;
      const holders = owners.map(label);
      const text = formatAddress(address);
      const free = unsaidGateway ? undefined : model.proposals.address(second.vlan, address, second);
      yield {
        subject: `${text}${whereOf(first)}`,
        parties: holders,
        severity: (meets || cut) && !unsaidGateway ? 'error' : 'warning',
        ...(assumed || unsaidGateway ? { confidence: 'assumed' } : {}),
        cure: () =>
          unsaidGateway || oneMac
            ? peopleDecide('whether they share the address on purpose')
            : readdress(
                model,
                [second, ...rest].map((owner) => ({
                  owner,
                  address,
                  offered: owner === second && free !== undefined ? formatAddress(free) : undefined,
                })),
                'likely',
              ),
        facts: unsaidGateway
          ? { form: 'gateway', address: text, vlan: first.vlan?.name ?? '', holders }
          : {
              form: 'address',
              address: text,
              holders,
              meets,
              cut,
              oneMac,
              free: free === undefined ? undefined : formatAddress(free),
            },
        at: noted(mark(second, label(second), keyOf(second, address)), 'change'),
        others: [first, ...rest].map((owner) => mark(owner, label(owner), keyOf(owner, address))),
        touch: touchOfOwner(second),
        sources: unsaidGateway ? GATEWAY : isIPv4(address) ? IPV4 : IPV6,
      };
    }
  },
  words,
});

function whereOf(first: Owner): string {
  if (first.vlan !== undefined) return ` in ${vlanSubject(first.vlan)}`;
  return isInterface(first) && first.network !== undefined ? ` in network ${first.network.name}` : '';
}

function keyOf(owner: Owner, address: Address): string {
  return isInterface(owner) && owner.address6 === address ? 'address6' : 'address';
}

/**
 * Who keeps the address first: what others know by it (a switch, a router, a querier), then whoever has the same last
 * number on its other interfaces; the rest as they came.
 */
function keepersFirst({ plan }: Model, address: Address, owners: Several<Owner>): Several<Owner> {
  const queriers = new Set<unknown>(
    plan.vlans.flatMap(({ igmp, mld }) => [...(igmp?.queriers ?? []), ...(mld?.queriers ?? [])].map(({ on }) => on)),
  );
  const rank = (owner: Owner): number => {
    if (!isInterface(owner) || forwards(owner) || queriers.has(owner.device)) return 0;
    return hasItsNumber(owner, address) ? 1 : 2;
  };
  const [first, second, ...rest] = owners.toSorted((a, b) => rank(a) - rank(b));
  return first === undefined || second === undefined ? owners : [first, second, ...rest];
}

/** The device's other addresses end as this one does. */
function hasItsNumber({ device, address6 }: Interface, address: Address): boolean {
  const last = (one: Address): number => Number(typeof one === 'number' ? one & 0xff : one & 0xffffn);
  const others = device.interfaces.flatMap((one) => (address6 === address ? one.address6 : one.address) ?? []);
  return others.filter((one) => last(one) === last(address)).length * 2 > others.length && others.length > 1;
}
