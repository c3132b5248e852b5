/** Facts of findings as plain data, for programs: entities of the plan become the names people know them by. */
import { linkLabel, portLabel } from '../model/vlans/index.js';
import type {
  Entity,
  ConventionGroups,
  Interface,
  Join,
  Leg,
  Link,
  Port,
  PtpDomain,
  ReceiverLeg,
} from '../plan/types.js';
import { promiseWords } from './groups.js';
import { joinLabel, legLabel, ptpDomainLabel, receiverLegLabel } from './labels.js';

export type PlainData = string | number | boolean | null | readonly PlainData[] | { readonly [key: string]: PlainData };

/**
 * The facts without what is absent. What is no data (a function, a map, a set, an object of a class, a bigint, an entity
 * nobody has a name for) goes to `strange`, which throws a TypeError when not given.
 */
export function plainFacts(value: unknown, strange: (what: string) => PlainData = refuse, depth = 0): PlainData {
  if (value === null || typeof value === 'string' || typeof value === 'boolean') return value;
  if (typeof value === 'number') return Number.isFinite(value) ? value : String(value);
  if (typeof value !== 'object') return strange(`a ${typeof value} is no data`);
  if (depth > DEEPEST) return strange('what is nested this deep is no data');
  if (Array.isArray(value))
    return value.map((one: unknown) => (one === undefined ? null : plainFacts(one, strange, depth + 1)));
  if ('origin' in value) {
    const label = entityLabel(value as Entity);
    return label === '' ? strange('an entity without a name is no data') : label;
  }
  if (Object.getPrototypeOf(value) !== Object.prototype)
    return strange(`an object of class ${value.constructor.name} is no data`);
  const stated = Object.entries(value).filter(([, one]) => one !== undefined);
  return Object.fromEntries(stated.map(([key, one]) => [key, plainFacts(one, strange, depth + 1)]));
}

/** Facts are flat; whatever goes deeper goes round in a circle. */
const DEEPEST = 12;

function refuse(what: string): never {
  throw new TypeError(what);
}

/** `cam-1/video leg 2`, `cam-1 red`, `leaf-a/12`, `R01`: what people call an entity of the plan. */
export function entityLabel(entity: Entity): string {
  const has = (key: string): boolean => key in entity;
  if (has('sender') && has('index')) return legLabel(entity as Leg);
  if (has('receiver') && has('index')) return receiverLegLabel(entity as ReceiverLeg);
  if (has('label')) return (entity as Entity & { readonly label: string }).label;
  if (has('ranges')) return promiseWords(entity as ConventionGroups);
  if (has('grandmasters')) return ptpDomainLabel(entity as PtpDomain);
  if (has('vlans') && has('networks')) return joinLabel(entity as Join);
  if (has('ends')) return linkLabel(entity as Link);
  if (has('access') && has('trunk')) return portLabel(entity as Port);
  if (has('device') && has('name')) return `${(entity as Interface).device.name} ${(entity as Interface).name}`;
  return has('name') ? ((entity as Entity & { readonly name: string | undefined }).name ?? '') : '';
}
