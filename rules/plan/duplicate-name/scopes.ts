/** Where a name may be used once only, and the names that are used twice there. */
import {
  formatAddress,
  groupBy,
  kindOf,
  type Device,
  type Entity,
  type Kind,
  type Named,
  type NonEmpty,
  type Plan,
  type Receiver,
  type Rig,
  type Touch,
} from '../../../src/lint/rule.js';
import type { NameKind, Takes } from './words.js';

export interface Thing {
  readonly entity: Entity & { readonly name?: string | undefined };
  readonly rig: Rig | undefined;
  readonly touch: Touch;
  /** Of a receiver. */
  readonly takes?: Takes;
}

export interface Scope {
  readonly kind: NameKind;
  /** What the things belong to: `cam-1`, a rig, nothing. */
  readonly within: string;
  readonly things: readonly Thing[];
  /** Whose parts the things are. */
  readonly device?: Device;
}

export interface Double {
  readonly scope: Scope;
  readonly name: string;
  readonly things: NonEmpty<Thing>;
  /** The device kind that writes all of them. */
  readonly kind: Kind | undefined;
}

export function* doubles(plan: Plan): Iterable<Double> {
  for (const scope of scopes(plan)) {
    for (const [name, things] of groupBy(scope.things, ({ entity }) => entity.name)) {
      if (things.length < 2) continue;
      const entities = things.map(({ entity }) => entity);
      yield { scope, name, things, kind: scope.device === undefined ? undefined : kindOf(scope.device, entities) };
    }
  }
}

/** Only those in which a name comes twice: lists of things for every device of a large plan cost more than all else. */
function* scopes(plan: Plan): Iterable<Scope> {
  const several = plan.rigs.length > 1;
  // A box that is both a device and a switch has one name for both.
  if (anyDouble(plan.devices)) yield { kind: 'device', within: '', things: boxes(plan.devices, 'device') };
  yield { kind: 'switch', within: '', things: boxes(plan.switches, 'switch') };
  yield* perRig(plan, 'VLAN', plan.vlans, ({ name }) => ({ kind: 'vlan', name }));
  yield* perRig(plan, 'network', plan.networks, ({ name }) => ({ kind: 'network', name }));
  yield* perRig(plan, 'device kind', plan.kinds, planTouch);
  for (const [rig, formats] of groupBy(plan.formats, ({ origin }) => plan.rigOf(origin.document))) {
    const things = formats.map((entity) => ({ entity, rig: undefined, touch: planTouch(entity) }));
    yield { kind: 'format', within: several ? rig.name : '', things };
  }
  for (const [rig, links] of groupBy(plan.links, (link) => link.rig)) {
    const things = links.map((entity): Thing => ({ entity, rig, touch: { kind: 'link', name: entity.name ?? '' } }));
    yield { kind: 'link', within: several ? rig.name : '', things };
  }
  for (const device of plan.devices) yield* partScopes(device);
  // Streams known by description only, file by file; the media of one session may well share a name.
  const described = plan.senders.filter((sender) => sender.device === undefined && sender.session === undefined);
  for (const [document, own] of groupBy(described, ({ origin }) => origin.document)) {
    if (!anyDouble(own)) continue;
    const things = own.map((entity): Thing => ({
      entity,
      rig: undefined,
      touch: { kind: 'stream', name: entity.name },
    }));
    yield { kind: 'stream', within: document.name, things };
  }
}

function* partScopes(device: Device): Iterable<Scope> {
  const { name: within, interfaces, senders, receivers } = device;
  if (!anyDouble(interfaces) && !anyDouble(senders) && !anyDouble(receivers)) return;
  const touch: Touch = { kind: 'device', name: within };
  const things = (all: readonly Named[]): readonly Thing[] => all.map((entity) => ({ entity, rig: undefined, touch }));
  yield { kind: 'interface', within, device, things: things(interfaces) };
  yield { kind: 'sender', within, device, things: things(senders) };
  yield {
    kind: 'receiver',
    within,
    device,
    things: receivers.map((entity) => ({ entity, rig: undefined, touch, takes: takesOf(entity) })),
  };
}

function boxes(all: readonly (Named & { readonly rig: Rig })[], kind: 'device' | 'switch'): readonly Thing[] {
  return all.map((entity) => ({ entity, rig: entity.rig, touch: { kind, name: entity.name } }));
}

function perRig<T extends Named & { readonly rig: Rig }>(
  plan: Plan,
  kind: NameKind,
  all: readonly T[],
  touch: (one: T) => Touch,
): readonly Scope[] {
  return plan.rigs.map((rig) => ({
    kind,
    within: plan.rigs.length > 1 ? rig.name : '',
    things: all.filter((one) => one.rig === rig).map((entity) => ({ entity, rig, touch: touch(entity) })),
  }));
}

function planTouch({ origin }: Entity): Touch {
  return { kind: 'plan', name: origin.document.name };
}

function takesOf({ takes, legs }: Receiver): Takes {
  if (takes !== undefined) return { sender: takes };
  return { groups: legs.flatMap(({ group }) => (group === undefined ? [] : [formatAddress(group)])) };
}

function anyDouble(all: readonly { readonly name: string }[]): boolean {
  if (all.length > FEW) return new Set(all.map((one) => one.name)).size < all.length;
  for (let index = 1; index < all.length; index++) {
    const name = all[index]?.name;
    for (let before = 0; before < index; before++) if (all[before]?.name === name) return true;
  }
  return false;
}

/** Up to here comparing each with each is faster than a set. */
const FEW = 8;
