/** What joins rigs where nobody says how: networks for the same purpose on the same leg are taken to meet. */
import { append } from '../collections/group-by.js';
import type { Network, Plan } from '../plan/types.js';
import { readDocument } from '../read/index.js';
import type { Document } from '../source/document.js';
import { JOINING } from './sides.js';

export interface Supposed {
  /** Undefined where nothing of one rig is like anything of another. */
  readonly document: Document | undefined;
  /** What was supposed, one line each: `red of Heron and red of Dunlin (media, leg 1)`. */
  readonly words: readonly string[];
}

/**
 * Networks of equal role and leg meet; those without a role meet those of equal name. Of VLANs that belong to no network
 * those of equal name do. Nothing is supposed of links: what crosses them nobody can tell.
 */
export function supposeJoins(plan: Plan): Supposed {
  const networks = alike(plan.networks, (one) => (one.role === undefined ? `name ${one.name}` : purpose(one)));
  const vlans = alike(
    plan.vlans.filter(({ network }) => network === undefined),
    ({ name }) => name,
  );
  const joins = [
    ...networks.map((list) => ({ networks: list.map(qualified) })),
    ...vlans.map((list) => ({ vlans: list.map(qualified) })),
  ];
  const words = [
    ...networks.map(
      (list) => `${list.map(ofRig).join(' and ')} (${list[0]?.role === undefined ? 'by name' : purpose(list[0])})`,
    ),
    ...vlans.map((list) => `VLAN ${list.map(ofRig).join(' and ')} (by name)`),
  ];
  if (joins.length === 0) return { document: undefined, words };
  const text = JSON.stringify({ rigproof: 1, rig: JOINING, joins }, undefined, 2);
  return { document: readDocument({ name: 'join.json', text, format: 'json' }).document, words };
}

interface OfRig {
  readonly name: string;
  readonly rig: { readonly name: string };
}

function alike<T extends OfRig>(things: readonly T[], keyOf: (thing: T) => string): readonly (readonly T[])[] {
  const byKey = new Map<string, T[]>();
  for (const one of things) {
    const key = keyOf(one);
    append(byKey, key, one);
  }
  return [...byKey.values()].filter((list) => new Set(list.map(({ rig }) => rig)).size > 1);
}

function purpose({ role, leg }: Network): string {
  return leg === undefined ? (role ?? '') : `${role ?? ''}, leg ${leg}`;
}

function qualified({ name, rig }: OfRig): string {
  return `${rig.name}:${name}`;
}

function ofRig({ name, rig }: OfRig): string {
  return `${name} of ${rig.name}`;
}
