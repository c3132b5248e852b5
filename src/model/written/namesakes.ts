/** Things of one kind that have one name where a name should mean one thing. */
import { groupBy } from '../../collections/group-by.js';
import { eachInput } from '../../plan/inputs.js';
import type { NonEmpty } from '../../collections/non-empty.js';
import type { Device, Entity, Kind, Named, Plan, Rig } from '../../plan/types.js';
import { kindOf } from './kind-entries.js';

export type NamedKind =
  | 'device'
  | 'switch'
  | 'VLAN'
  | 'network'
  | 'device kind'
  | 'format'
  | 'link'
  | 'interface'
  | 'sender'
  | 'receiver'
  | 'stream';

/** Where names of one kind of thing should be unique. */
export interface Scope {
  readonly what: NamedKind;
  /** The rig, where there are several, the device or the file that the things belong to; absent: the plan. */
  readonly within: string | undefined;
  /** Whose parts the things are. */
  readonly device?: Device;
  readonly all: readonly NamedEntity[];
}

export type NamedEntity = Entity & { readonly name: string | undefined; readonly rig?: Rig };

export interface Namesakes extends Omit<Scope, 'all'> {
  readonly name: string;
  readonly things: NonEmpty<NamedEntity>;
  /** The device kind that writes all of them, for each of its devices. */
  readonly kind: Kind | undefined;
  /** The rigs they are of. */
  readonly rigs: readonly Rig[];
}

/** What a device kind writes twice, every device of the kind has twice: it is said once, of the kind. */
export function namesakes(plan: Plan): readonly Namesakes[] {
  const told = new Map<Kind, Set<string>>();
  const isTold = (kind: Kind, key: string): boolean => {
    const keys = told.get(kind) ?? new Set();
    told.set(kind, keys);
    return keys.size === keys.add(key).size;
  };
  const found: Namesakes[] = [];
  for (const { all, ...scope } of scopes(plan)) {
    if (!anyDouble(all)) continue;
    for (const [name, things] of groupBy(all, (one) => one.name)) {
      if (things.length < 2) continue;
      const kind = scope.device === undefined ? undefined : kindOf(scope.device, things);
      if (kind !== undefined && isTold(kind, `${scope.what} ${name}`)) continue;
      found.push({ ...scope, name, things, kind, rigs: [...new Set(things.flatMap(({ rig }) => rig ?? []))] });
    }
  }
  return found;
}

function* scopes(plan: Plan): Iterable<Scope> {
  yield { what: 'device', within: undefined, all: plan.devices };
  yield { what: 'switch', within: undefined, all: plan.switches };
  yield* perRig('VLAN', plan, plan.vlans);
  yield* perRig('network', plan, plan.networks);
  yield* perRig('device kind', plan, plan.kinds);
  yield* perRig('format', plan, plan.formats);
  yield* perRig('link', plan, plan.links);
  for (const device of plan.devices) {
    const { interfaces, senders, name: within } = device;
    const receivers = eachInput(device.receivers);
    if (!anyDouble(interfaces) && !anyDouble(senders) && !anyDouble(receivers)) continue;
    yield { what: 'interface', within, device, all: interfaces };
    yield { what: 'sender', within, device, all: senders };
    yield { what: 'receiver', within, device, all: receivers };
  }
  // Streams known by description only, file by file; the media of one session may well share a name.
  const streams = plan.senders.filter((sender) => sender.device === undefined && sender.session === undefined);
  for (const [document, all] of groupBy(streams, ({ origin }) => origin.document))
    yield { what: 'stream', within: document.name, all };
}

function perRig(what: NamedKind, plan: Plan, all: readonly NamedEntity[]): readonly Scope[] {
  return [...groupBy(all, ({ rig, origin }) => rig ?? plan.rigOf(origin.document))].map(([rig, own]) => ({
    what,
    within: plan.rigs.length > 1 ? rig.name : undefined,
    all: own,
  }));
}

/** Whether a name comes twice: lists of the things of every device of a large plan cost more than all else. */
function anyDouble(all: readonly Pick<Named | NamedEntity, 'name'>[]): boolean {
  if (all.length > FEW) return new Set(all.map((one) => one.name)).size < all.length;
  for (let index = 1; index < all.length; index++) {
    const name = all[index]?.name;
    for (let before = 0; before < index; before++) if (all[before]?.name === name) return true;
  }
  return false;
}

/** Up to here comparing each with each is faster than a set. */
const FEW = 8;
