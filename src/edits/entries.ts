/** Entries of a plan as cures change them: whole entries of lists, ports out of ranges, numbers that others follow. */
import { groupBy } from '../collections/group-by.js';
import { placeOf } from '../plan/place.js';
import { portNames } from '../plan/port-names.js';
import type { Entity, Leg, Link, Port } from '../plan/types.js';
import type { Model } from '../model/model.js';
import type { EditList } from './edit-list.js';
import type { EditValue } from './entry.js';
import { followersIn } from './followers.js';

/** What stands under a key of an entity, or of its kind, as it is written; undefined where nothing does. */
export function writtenAt(entity: Entity, key: string): EditValue | undefined {
  const place = placeOf(entity, key);
  return place.key === undefined ? undefined : (valueOf(place.container, place.key) as EditValue | undefined);
}

/** Takes an entity's entry out of a list of its document, `formats` for one; or of a list of what holds it. */
export function removeEntry(edits: EditList, entity: Entity, list: string, holder?: Entity): void {
  const { document, container } = entity.origin;
  const all = valueOf((holder === undefined ? document.value : holder.origin.container) as object, list);
  if (!Array.isArray(all)) return;
  const key = all.indexOf(container);
  if (key >= 0) edits.put({ document, container: all, key }, undefined);
}

/** A sender's number, with what its receivers and its descriptions state of it. */
export function setLegNumber(
  model: Model,
  edits: EditList,
  legs: readonly Leg[],
  key: 'port' | 'payloadType',
  value: number,
): void {
  const { receivers, descriptions } = followersIn(model);
  for (const leg of legs) {
    edits.setWhereWritten(leg, key, value);
    for (const one of receivers.get(leg) ?? [])
      if (one.takes === leg && one[key] !== undefined) edits.setWhereWritten(one, key, value);
    for (const { legs: described } of descriptions.get(leg.sender) ?? []) {
      const twin = described[leg.index];
      if (twin?.[key] !== undefined) edits.set(twin, key, value);
    }
  }
}

/** Names another port at an end of a link: `red-core/50`. */
export function setLinkEnd(edits: EditList, link: Link, end: 0 | 1, port: Port): void {
  const { document, container } = link.ends[end].origin;
  edits.put({ document, container, key: end }, `${port.switch.name}/${port.name}`);
}

/**
 * Settings of ports, undefined for what they no longer say. A port written in a range gets an entry of its own, and the
 * range is written anew without it. False where the plan does not list the switch's ports, so that there is no entry.
 */
export function setOnPorts(
  edits: EditList,
  ports: readonly Port[],
  changes: Readonly<Record<string, EditValue | undefined>>,
): boolean {
  for (const [container, own] of groupBy(ports, (port) => port.origin.container)) {
    const [{ switch: owner, origin }] = own;
    if (container === owner.origin.container) return false;
    const entry = container as Readonly<Record<string, EditValue>>;
    const { name: range } = container as { readonly name: string | number };
    const all = portNames(String(range)) ?? [];
    const changed = new Set(own.map(({ name }) => name));
    const rest = all.filter((name) => !changed.has(name));
    if (rest.length === 0) {
      for (const [key, value] of Object.entries(changes)) edits.put({ ...place(origin), key }, value);
      continue;
    }
    const [kept, ...more] = runsOf(rest);
    if (kept === undefined) continue;
    edits.put({ ...place(origin), key: 'name' }, kept);
    for (const name of more) edits.append(owner, 'ports', { ...entry, name });
    for (const name of runsOf(all.filter((one) => changed.has(one))))
      edits.append(owner, 'ports', merged({ ...entry, name }, changes));
  }
  return true;
}

function place({ document, container }: Entity['origin']): {
  readonly document: Entity['origin']['document'];
  readonly container: object;
} {
  return { document, container };
}

function merged(
  entry: Readonly<Record<string, EditValue>>,
  changes: Readonly<Record<string, EditValue | undefined>>,
): EditValue {
  const now: Record<string, EditValue> = {};
  for (const [key, value] of Object.entries({ ...entry, ...changes })) if (value !== undefined) now[key] = value;
  return now;
}

/** Names as ranges a plan may write: `1-6`, `1/8`; a name that is a number as one. */
export function runsOf(names: readonly string[]): readonly (string | number)[] {
  const runs: { readonly stem: string; readonly first: number; last: number; readonly name: string }[] = [];
  for (const name of names) {
    const match = /^(.*?)(\d+)$/.exec(name);
    const stem = match?.[1] ?? name;
    const number = match === null ? Number.NaN : Number(match[2]);
    const run = runs.at(-1);
    // A number with zeros before it is not the one that follows on the last.
    if (run?.stem === stem && number === run.last + 1 && name === `${stem}${number}`) run.last = number;
    else runs.push({ stem, first: number, last: number, name });
  }
  return runs.map(({ stem, first, last, name }) => {
    if (first < last) return `${stem}${first}-${last}`;
    return /^[1-9]\d*$/.test(name) ? Number(name) : name;
  });
}

function valueOf(container: object, key: string | number): unknown {
  return (container as Readonly<Record<string | number, unknown>>)[key];
}
