/** Rigs, and what each promises: conventions and practice. */
import { append } from '../../collections/group-by.js';
import type { Document } from '../../source/document.js';
import type { RawConventions, RawLegMap, RawPlan, RawPractice } from '../../read/raw-plan.js';
import type { Prefix } from '../../values/address.js';
import { parsePrefix } from '../../values/address.js';
import type { Conventions, ConventionGroups, LegMapEntry, Network, Practice, Referrer, Rig, Vlan } from '../types.js';
import { originOf, type ResolveContext, type Scope } from './context.js';

/** The tree of a document that has passed the schema. */
export function rawPlan(document: Document): RawPlan {
  return document.value as RawPlan;
}

export interface Rigs {
  readonly all: readonly Rig[];
  readonly of: (document: Document) => Rig;
}

/**
 * Files that name a rig belong to it. Files that name none (stream lists, SDP files, parts) belong to the only named
 * rig, or to an unnamed one when there are several or none.
 */
export function resolveRigs(
  documents: readonly Document[],
  context: ResolveContext,
  given: ReadonlyMap<Document, string> = new Map(),
): Rigs {
  const stated = (document: Document): string | undefined => given.get(document) ?? rawPlan(document).rig;
  const names = [...new Set(documents.flatMap((document) => stated(document) ?? []))];
  const nameOf = (document: Document): string => stated(document) ?? (names.length === 1 ? (names[0] ?? '') : '');
  const byName = new Map<string, Document[]>();
  for (const document of documents) {
    append(byName, nameOf(document), document);
  }
  const rigs = new Map([...byName].map(([name, own]) => [name, resolveRig(name, own, context)]));
  return {
    all: [...rigs.values()],
    of: (document) => {
      const rig = rigs.get(nameOf(document));
      if (rig === undefined) throw new Error('a document of another plan was asked for its rig');
      return rig;
    },
  };
}

function resolveRig(name: string, documents: readonly Document[], context: ResolveContext): Rig {
  const conventions = documents.flatMap((document) => {
    const raw = rawPlan(document).conventions;
    return raw === undefined ? [] : [resolveConventions(document, raw, context)];
  });
  const practices = documents.flatMap((document) => {
    const raw = rawPlan(document).practice;
    return raw === undefined ? [] : [{ document, raw }];
  });
  return { name, conventions: joinConventions(conventions), practice: resolvePractice(practices[0], context) };
}

/** Selected networks and VLANs are bound later, once those are known. */
function resolveConventions(document: Document, raw: RawConventions, context: ResolveContext): Conventions {
  const origin = originOf(document, raw);
  const groups = (raw.groups ?? []).map((one): ConventionGroups => ({
    origin: originOf(document, one),
    network: undefined,
    vlan: undefined,
    essence: one.essence,
    ranges: context.ranges(originOf(document, one), 'ranges', one.ranges),
  }));
  const map = (entries: RawLegMap | undefined): LegMapEntry[] =>
    (entries ?? []).flatMap((one) => {
      const at = originOf(document, one);
      const first = context.prefix(at, 'first', one.first);
      const second = context.prefix(at, 'second', one.second);
      if (first === undefined || second === undefined) return [];
      if (first.length !== second.length || typeof first.network !== typeof second.network) {
        context.faults.push({
          place: { document, container: one, key: 'second' },
          what: `\`${one.first}\` and \`${one.second}\` are not of the same size`,
          instead: 'write two blocks with the same prefix length',
        });
        return [];
      }
      return [{ origin: at, first, second }];
    });
  return {
    groups,
    groupMap: map(raw.legMap?.groups),
    sourceMap: map(raw.legMap?.sources),
    portOffset: raw.legMap?.portOffset,
    autonomousSystem: raw.autonomousSystem,
    prefixes: context.prefixes(origin, 'prefixes', raw.prefixes),
    thresholds: raw.thresholds ?? {},
  };
}

function joinConventions(conventions: readonly Conventions[]): Conventions {
  return {
    groups: conventions.flatMap((conventions) => conventions.groups),
    groupMap: conventions.flatMap((conventions) => conventions.groupMap),
    sourceMap: conventions.flatMap((conventions) => conventions.sourceMap),
    portOffset: conventions.find((conventions) => conventions.portOffset !== undefined)?.portOffset,
    autonomousSystem: conventions.find((conventions) => conventions.autonomousSystem !== undefined)?.autonomousSystem,
    prefixes: conventions.flatMap((conventions) => conventions.prefixes),
    thresholds: Object.assign({}, ...conventions.map((conventions) => conventions.thresholds).reverse()) as Readonly<
      Record<string, number>
    >,
  };
}

/** Fills in the networks and VLANs that promises select. */
export function bindConventions(rig: Rig, networks: Scope<Network>, vlans: Scope<Vlan>, context: ResolveContext): void {
  for (const promise of rig.conventions.groups) {
    const raw = promise.origin.container as NonNullable<RawConventions['groups']>[number];
    const by: Referrer = { kind: 'conventionGroups', entity: promise };
    const draft = promise as { -readonly [K in keyof ConventionGroups]: ConventionGroups[K] };
    draft.network = context.find(networks, rig, promise.origin, 'network', raw.network, by);
    draft.vlan = context.find(vlans, rig, promise.origin, 'vlan', raw.vlan, by);
  }
}

/** ff3x::/32 for every scope x (RFC 4607 §1, RFC 4604 §2). */
const SOURCE_SPECIFIC_6 = Array.from({ length: 16 }, (_, scope) => `ff3${scope.toString(16)}::/32`);

/** Practices known by name; each is one side of a contradiction between open standards. */
const PRACTICES: Readonly<
  Record<
    'rfc2365' | 'rfc4607' | 'either',
    { readonly name: string; readonly cites: string; readonly groupRanges: readonly string[] }
  >
> = {
  rfc2365: {
    name: 'administratively scoped groups only',
    cites: 'RFC 2365 §6; AES67-2018 §7.6',
    groupRanges: ['239.0.0.0/8', 'ff00::/8'],
  },
  rfc4607: {
    name: 'source-specific groups only',
    cites: 'RFC 4607 §1',
    groupRanges: ['232.0.0.0/8', ...SOURCE_SPECIFIC_6],
  },
  either: {
    name: 'administratively scoped or source-specific groups',
    cites: 'RFC 2365 §6, RFC 4607 §1',
    groupRanges: ['239.0.0.0/8', '232.0.0.0/8', 'ff00::/8'],
  },
};

function resolvePractice(
  stated: { readonly document: Document; readonly raw: RawPractice } | undefined,
  context: ResolveContext,
): Practice {
  const named = PRACTICES[stated?.raw.follows ?? 'either'];
  const raw = stated?.raw ?? {};
  const origin = stated === undefined ? undefined : originOf(stated.document, stated.raw);
  const prefixes = (key: 'groupRanges' | 'sourceSpecific', defaults: readonly string[]): readonly Prefix[] =>
    raw[key] !== undefined && origin !== undefined
      ? context.prefixes(origin, key, raw[key])
      : defaults.flatMap((text) => parsePrefix(text) ?? []);
  return {
    name: named.name,
    cites: raw.cites ?? named.cites,
    groupRanges: prefixes('groupRanges', named.groupRanges),
    sourceSpecific: prefixes('sourceSpecific', ['232.0.0.0/8', ...SOURCE_SPECIFIC_6]),
    igmpVersion: raw.igmpVersion,
    equalPaths: raw.equalPaths,
    dscp: raw.dscp ?? {},
    ptpDomain: raw.ptpDomain,
  };
}
