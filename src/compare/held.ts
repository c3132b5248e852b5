/** Keys of what only one may hold at a time: work that takes one waits for work that gives it up. */
import type { Device, Interface, Leg, LinkEnd, Port, Switch } from '../plan/types.js';
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

/** Everything that a whole device holds. */
export function deviceKeys({ interfaces, senders }: Device, identity: Identity): readonly (string | undefined)[] {
  return [
    ...interfaces.flatMap((one) => interfaceKeys(one, identity)),
    ...senders.flatMap(({ legs }) => legs.map(groupKey)),
  ];
}

/** Everything that a whole switch holds, with the ends of links at it. */
export function switchKeys(
  { addresses }: Switch,
  ends: readonly LinkEnd[],
  identity: Identity,
): readonly (string | undefined)[] {
  return [...addresses.map(({ address }) => addressKey(address)), ...ends.map(({ port }) => portKey(port, identity))];
}
