/** Where names have to be told apart: boxes, a rig's VLANs and networks, the senders of one device. */
import {
  alikeSuspects,
  append,
  kindOf,
  touchOfKind,
  type Named,
  type Plan,
  type Touch,
} from '../../../src/lint/rule.js';

export interface Thing {
  readonly entity: Named;
  readonly word: string;
  readonly touch: Touch;
}

export interface Scope {
  /** A rig, a device, or nothing. */
  readonly within: string;
  readonly things: ReadonlyMap<string, readonly Thing[]>;
}

/** Holds only what may be alike: things for all the names of a large plan would cost more than the comparison. */
export function* nameScopes(plan: Plan): Iterable<Scope> {
  yield scopeOf('', [...plan.devices, ...plan.switches], (entity) =>
    'ports' in entity ? thing(entity, 'switch', 'switch') : thing(entity, 'device', 'device'),
  );
  for (const rig of plan.rigs) {
    const within = plan.rigs.length > 1 ? rig.name : '';
    const own = <T extends Named & { readonly rig: object }>(all: readonly T[]): readonly T[] =>
      all.filter((one) => one.rig === rig);
    yield scopeOf(within, own(plan.vlans), (entity) => thing(entity, 'VLAN', 'vlan'));
    yield scopeOf(within, own(plan.networks), (entity) => thing(entity, 'network', 'network'));
  }
  yield* senderScopes(plan);
}

function* senderScopes({ devices }: Plan): Iterable<Scope> {
  const told = new Set<object>();
  let sound: readonly Named[] = [];
  for (const device of devices) {
    // Devices of one make follow one another, with the same senders.
    if (device.senders.length < 2 || haveSameNames(device.senders, sound)) continue;
    if (alikeSuspects(device.senders).length === 0) {
      sound = device.senders;
      continue;
    }
    // Senders that come from the kind are the same in every device of it.
    const from = kindOf(device, device.senders);
    if (from !== undefined && told.has(from)) continue;
    if (from !== undefined) told.add(from);
    const touch: Touch = from === undefined ? { kind: 'device', name: device.name } : touchOfKind(from);
    const within = from === undefined ? device.name : `kind ${from.name}`;
    yield scopeOf(within, device.senders, (entity) => ({ entity, word: 'sender', touch }));
  }
}

function thing(entity: Named, word: string, kind: Touch['kind']): Thing {
  return { entity, word, touch: { kind, name: entity.name } };
}

function haveSameNames(a: readonly Named[], b: readonly Named[]): boolean {
  return a.length === b.length && a.every(({ name }, index) => name === b[index]?.name);
}

function scopeOf<T extends Named>(within: string, all: readonly T[], thingOf: (one: T) => Thing): Scope {
  const things = new Map<string, Thing[]>();
  for (const one of alikeSuspects(all)) append(things, one.name, thingOf(one));
  return { within, things };
}
