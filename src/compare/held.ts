/** Keys of what only one may hold at a time: work that takes one waits for work that gives it up. */
import type { Device, Interface, Leg, Plan, Port, Switch } from '../plan/types.js';
import type { Address } from '../values/address.js';
import type { Pairing } from './pairing.js';
import { keyOf } from './pairing.js';

type Identity = Pairing['identity'];

export function portKey(port: Port | undefined, identity: Identity): string | undefined {
  return port === undefined ? undefined : keyOf('port', String(identity(port.switch)), port.name);
}

/** In whatever network: an order that is safe where it need not be costs nothing. */
export function addressKey(address: Address | undefined): string | undefined {
  return address === undefined ? undefined : keyOf('address', typeof address, String(address));
}

export function groupKey(leg: Pick<Leg, 'group'> | undefined): string | undefined {
  return leg?.group === undefined ? undefined : keyOf('group', typeof leg.group, String(leg.group));
}

export function vlanIdKey(id: number | undefined): string | undefined {
  return id === undefined ? undefined : keyOf('VLAN id', String(id));
}

export function interfaceKeys(one: Interface | undefined, identity: Identity): readonly (string | undefined)[] {
  return one === undefined ? [] : [portKey(one.port, identity), addressKey(one.address), addressKey(one.address6)];
}

/** Everything that a whole box holds. */
export function boxKeys(box: Device | Switch, plan: Plan, identity: Identity): readonly (string | undefined)[] {
  if ('interfaces' in box)
    return [
      ...box.interfaces.flatMap((one) => interfaceKeys(one, identity)),
      ...box.senders.flatMap(({ legs }) => legs.map(groupKey)),
    ];
  const ends = plan.links.flatMap(({ ends: both }) => both.filter((end) => end.switch === box));
  return [
    ...box.addresses.map(({ address }) => addressKey(address)),
    ...ends.map(({ port }) => portKey(port, identity)),
  ];
}
