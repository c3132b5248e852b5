/** What resolving collects besides the plan: values that cannot be read, and names that lead nowhere. */
import type { Document, Place } from '../../source/document.js';
import { allNearest } from '../../collections/nearest.js';
import {
  parseAddress,
  parsePrefix,
  parseRange,
  type Address,
  type AddressRange,
  type Prefix,
} from '../../values/address.js';
import { parseClockIdentity, type ClockIdentity } from '../../values/clock-identity.js';
import { parseMac, type Mac } from '../../values/mac.js';
import { parseTime } from '../../values/quantity.js';
import type { Origin, Referrer, RepeatedPort, Rig, Unresolved, Wanted, WantedKind } from '../types.js';

/** A value that has the right type but cannot be read: `10.0.0.300`. */
export interface ValueFault {
  readonly place: Place;
  readonly what: string;
  readonly instead: string;
}

/** Comparing a name that leads nowhere with all names is done for the first few only, so a plan full of them stays linear. */
const NS_PER_S = 1e9;
const MOST_SUGGESTIONS = 100;

export class ResolveContext {
  readonly faults: ValueFault[] = [];
  readonly unresolved: Unresolved[] = [];
  readonly repeatedPorts: RepeatedPort[] = [];
  #suggestions = 0;
  /** What was read last. */
  #quantity:
    { readonly text: string; readonly parse: (text: string) => number | undefined; readonly value: number } | undefined;

  address(origin: Origin, key: string, text: string | undefined): Address | undefined {
    if (text === undefined) return undefined;
    const address = parseAddress(text);
    if (address === undefined)
      this.#fault(
        origin,
        key,
        `${quoted(text)} is not an address`,
        'write four decimal numbers from 0 to 255 without leading zeros, `10.20.1.31`, or an IPv6 address',
      );
    return address;
  }

  /** An address with or without its prefix length. */
  interfaceAddress(
    origin: Origin,
    key: string,
    text: string | undefined,
  ): { readonly address: Address; readonly length: number | undefined } | undefined {
    if (text === undefined) return undefined;
    if (!text.includes('/')) {
      const address = this.address(origin, key, text);
      return address === undefined ? undefined : { address, length: undefined };
    }
    const prefix = this.prefix(origin, key, text);
    return prefix === undefined ? undefined : { address: prefix.address, length: prefix.length };
  }

  prefix(origin: Origin, key: string | number, text: string | undefined): Prefix | undefined {
    if (text === undefined) return undefined;
    const prefix = parsePrefix(text);
    if (prefix === undefined)
      this.#fault(
        origin,
        key,
        `${quoted(text)} is not an address block`,
        'write an address, a slash and the prefix length: `10.20.0.0/22`',
      );
    return prefix;
  }

  prefixes(origin: Origin, key: string, texts: readonly string[] | undefined): readonly Prefix[] {
    if (texts === undefined) return [];
    const list = listOrigin(origin, key);
    return texts.flatMap((text, index) => this.prefix(list, index, text) ?? []);
  }

  range(origin: Origin, key: string | number, text: string | undefined): AddressRange | undefined {
    if (text === undefined) return undefined;
    const range = parseRange(text);
    if (range === undefined)
      this.#fault(
        origin,
        key,
        `${quoted(text)} is not an address range`,
        'write a block `239.20.0.0/16`, or first and last address: `10.20.0.100-10.20.0.199`',
      );
    return range;
  }

  ranges(origin: Origin, key: string, texts: readonly string[] | undefined): readonly AddressRange[] {
    if (texts === undefined) return [];
    const list = listOrigin(origin, key);
    return texts.flatMap((text, index) => this.range(list, index, text) ?? []);
  }

  mac(origin: Origin, key: string, text: string | undefined): Mac | undefined {
    if (text === undefined) return undefined;
    const mac = parseMac(text);
    if (mac === undefined)
      this.#fault(
        origin,
        key,
        `${quoted(text)} is not a MAC address`,
        'write six pairs of hexadecimal digits: `02:00:5e:10:00:01`',
      );
    return mac;
  }

  clockIdentity(origin: Origin, key: string, text: string | undefined): ClockIdentity | undefined {
    if (text === undefined) return undefined;
    const identity = parseClockIdentity(text);
    if (identity === undefined)
      this.#fault(
        origin,
        key,
        `${quoted(text)} is not a clock identity`,
        'write eight pairs of hexadecimal digits: `02-00-5E-FF-FE-10-00-01`',
      );
    return identity;
  }

  /** A quantity whose form the schema has already checked. */
  quantity(
    origin: Origin,
    key: string,
    text: string | undefined,
    parse: (text: string) => number | undefined,
  ): number | undefined {
    if (text === undefined) return undefined;
    // Thousands of interfaces in a row state one rate.
    const last = this.#quantity;
    if (last !== undefined && last.text === text && last.parse === parse) return last.value;
    const value = parse(text);
    if (value === undefined)
      this.#fault(origin, key, `${quoted(text)} can't be read`, 'write a number and its unit, as the schema shows');
    else this.#quantity = { text, parse, value };
    return value;
  }

  /** Seconds, written as a plain number or with a unit. */
  seconds(origin: Origin, key: string, value: number | string | undefined): number | undefined {
    if (typeof value !== 'string') return value;
    const timeNs = this.quantity(origin, key, value, parseTime);
    return timeNs === undefined ? undefined : timeNs / NS_PER_S;
  }

  /** Looks a name up; a name that leads nowhere is kept for the rule that reports it. */
  find<T>(
    scope: Scope<T>,
    rig: Rig,
    origin: Origin,
    key: string | number,
    text: string | undefined,
    by: Referrer,
  ): T | undefined {
    if (text === undefined) return undefined;
    const found = scope.find(rig, text);
    if (found !== undefined) return found;
    const several = scope.ofSeveral(text);
    if (several.length === 0) this.lost(origin, key, { kind: scope.kind }, text, by, () => scope.names());
    else this.unresolved.push({ origin, key, wanted: { kind: scope.kind }, text, by, suggestions: several });
    return undefined;
  }

  lost(
    origin: Origin,
    key: string | number,
    wanted: Wanted,
    text: string,
    by: Referrer,
    candidates: () => Iterable<string>,
  ): void {
    const suggestions = this.#suggestions++ < MOST_SUGGESTIONS ? allNearest(text, candidates()) : [];
    this.unresolved.push({ origin, key, wanted, text, by, suggestions });
  }

  #fault(origin: Origin, key: string | number, what: string, instead: string): void {
    this.faults.push({ place: placeIn(origin, key), what, instead });
  }
}

/** Names of one kind of thing: a rig's own come first, then any other rig's if only one has it. */
export class Scope<T> {
  readonly kind: WantedKind;
  readonly #own = new Map<Rig, Map<string, T>>();
  /** The rig asked about last, and its names: most plans have one. */
  #rig: Rig | undefined;
  #names: Map<string, T> | undefined;
  /** Names of all rigs; made when there is a second one. */
  #shared: Map<string, T | 'several'> | undefined;

  constructor(kind: WantedKind) {
    this.kind = kind;
  }

  /** The first thing of a name keeps it; a rule reports the others. */
  add(rig: Rig, name: string, thing: T): void {
    let own = this.#namesOf(rig);
    if (own === undefined) {
      if (this.#own.size === 1) this.#shared = new Map(this.#all());
      this.#own.set(rig, (own = new Map<string, T>()));
      this.#names = own;
    }
    if (own.has(name)) return;
    own.set(name, thing);
    this.#shared?.set(name, this.#shared.has(name) ? 'several' : thing);
  }

  find(rig: Rig, name: string): T | undefined {
    const own = this.#namesOf(rig)?.get(name);
    if (own !== undefined) return own;
    const other = this.#all().get(name);
    if (other !== undefined && other !== 'several') return other;
    return this.#inRig(name);
  }

  /** Every name; one that several rigs use is written with its rig. */
  names(): Iterable<string> {
    const all = this.#all();
    const names: string[] = [];
    for (const [name, thing] of all) if (thing !== 'several') names.push(name);
    if (names.length === all.size) return names;
    for (const [rig, own] of this.#own)
      for (const name of own.keys()) if (all.get(name) === 'several') names.push(`${rig.name}:${name}`);
    return names;
  }

  /** The ways to write a name that several rigs use; none where it is not used, or by one rig only. */
  ofSeveral(name: string): readonly string[] {
    if (this.#all().get(name) !== 'several') return [];
    return [...this.#own].flatMap(([rig, own]) => (own.has(name) ? [`${rig.name}:${name}`] : []));
  }

  #namesOf(rig: Rig): Map<string, T> | undefined {
    if (rig !== this.#rig) {
      this.#rig = rig;
      this.#names = this.#own.get(rig);
    }
    return this.#names;
  }

  /** Names of all rigs; 'several' where more than one has it. */
  #all(): ReadonlyMap<string, T | 'several'> {
    if (this.#shared !== undefined) return this.#shared;
    const [only = new Map<string, T>()] = this.#own.values();
    return only;
  }

  /** `Heron:red-core`: a name with its rig, for what several rigs call the same. */
  #inRig(text: string): T | undefined {
    for (let colon = text.indexOf(':'); colon >= 0; colon = text.indexOf(':', colon + 1)) {
      const name = text.slice(0, colon);
      for (const [rig, own] of this.#own) {
        const found = rig.name === name ? own.get(text.slice(colon + 1)) : undefined;
        if (found !== undefined) return found;
      }
    }
    return undefined;
  }
}

function quoted(text: string): string {
  return `\`${text.length > 60 ? `${text.slice(0, 57)}…` : text}\``;
}

export function originOf(document: Document, container: object, base?: Origin): Origin {
  return base === undefined ? { document, container } : { document, container, base };
}

/** Origin of a list or entry inside an entity, looked for in the entity's kind too. */
export function listOrigin(origin: Origin, key: string): Origin {
  for (let from: Origin | undefined = origin; from !== undefined; from = from.base) {
    const value: unknown = Object.hasOwn(from.container, key)
      ? (from.container as Readonly<Record<string, unknown>>)[key]
      : undefined;
    if (typeof value === 'object' && value !== null) return { document: from.document, container: value };
  }
  return origin;
}

function placeIn(origin: Origin, key: string | number): Place {
  for (let from: Origin | undefined = origin; from !== undefined; from = from.base) {
    if (Object.hasOwn(from.container, key)) return { document: from.document, container: from.container, key };
  }
  return { document: origin.document, container: origin.container };
}

/** Read-only outside, filled in here. */
export type Draft<T> = { -readonly [K in keyof T]: T[K] };
