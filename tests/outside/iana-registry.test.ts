/**
 * The address tables against whole registries of IANA, where they lie in `../shared/data` beside the project. Single rows of
 * them are in `iana-values.test.ts` and need nothing.
 */
import { parse } from 'csv-parse/sync';
import { describe, expect, it } from 'vitest';
import * as space from '../../src/model/groups/multicast-space/index.js';
import {
  isGloballyReachableUnicast,
  isLoopback,
  isPrivateUse,
  SPECIAL_PURPOSE_4,
  SPECIAL_PURPOSE_6,
  specialPurpose,
  type SpecialPurpose,
} from '../../src/model/hosts/special-purpose.js';
import {
  formatAddress,
  formatPrefix,
  isMulticast,
  parseAddress,
  parseAddress4,
  parseAddress6,
  parsePrefix,
  rangeOf,
  type Prefix,
} from '../../src/values/address.js';
import { formatMac } from '../../src/values/mac.js';
import { skipped, textOf, unpublished } from '../tools/outside.js';

function required<T>(value: T | undefined, what: string): T {
  if (value === undefined) throw new Error(`unreadable in the registry: ${what}`);
  return value;
}

const group4 = (address: string): number => required(parseAddress4(address), address);
const prefixOf = (address: string): Prefix => required(parsePrefix(address), address);

interface SpecialRow {
  readonly 'Address Block': string;
  readonly Name: string;
  readonly RFC: string;
  readonly Source: string;
  readonly Destination: string;
  readonly Forwardable: string;
  readonly 'Globally Reachable': string;
}

describe.each([
  ['IPv4', 'iana/iana-ipv4-special-registry-1.csv', SPECIAL_PURPOSE_4],
  ['IPv6', 'iana/iana-ipv6-special-registry-1.csv', SPECIAL_PURPOSE_6],
] as const)('IANA %s Special-Purpose Address Registry', (_family, file, table) => {
  const missing = unpublished(file);
  it.skipIf(missing !== undefined)(`holds every row of ../shared/data/${file} and no other${skipped(missing)}`, () => {
    const rows = parse<SpecialRow>(textOf(file), { columns: true });
    const published = rows.flatMap((row) => blocksOf(row).map((block) => [block, row] as const));
    expect(published.length).toBeGreaterThan(20);
    expect(table.map(({ prefix }) => formatPrefix(prefix)).sort()).toEqual(
      published.map(([block]) => formatPrefix(prefixOf(block))).sort(),
    );
    for (const [block, row] of published) {
      const prefix = prefixOf(block);
      const ours = required(
        table.find((one) => formatPrefix(one.prefix) === formatPrefix(prefix)),
        block,
      );
      expect(ours.name, block).toBe(row.Name);
      expect(flagsOf(ours), block).toEqual(publishedFlags(row));
      expect(documentsIn(ours.citation), block).toEqual(documentsIn(row.RFC));
      for (const [, section] of row.RFC.matchAll(/Section ([\d.]+)/g)) {
        expect(ours.citation, block).toContain(`§${section ?? ''}`);
      }
    }
  });

  it.skipIf(missing !== undefined)(
    `lets the narrowest row decide about the last address of every row${skipped(missing)}`,
    () => {
      const rows = parse<SpecialRow>(textOf(file), { columns: true });
      const blocks = rows.flatMap((row) => blocksOf(row).map((block) => ({ row, range: rangeOf(prefixOf(block)) })));
      for (const { range } of blocks) {
        const holders = blocks.filter((one) => one.range.first <= range.last && range.last <= one.range.last);
        const narrowest = holders.reduce((a, b) => (width(b.range) < width(a.range) ? b : a));
        expect(specialPurpose(range.last)?.name, formatAddress(range.last)).toBe(narrowest.row.Name);
        const reachable = narrowest.row['Globally Reachable'].startsWith('True');
        expect(isGloballyReachableUnicast(range.last), formatAddress(range.last)).toBe(reachable);
      }
    },
  );
});

/** `192.0.0.0/24 [2]`, or two blocks in one cell. */
function blocksOf(row: SpecialRow): string[] {
  return row['Address Block'].split(',').map((block) => block.replace(/\[\d+\]/, '').trim());
}

/** `True`, `False [1]` (a footnote), `N/A` or empty: the registry makes no statement. */
function publishedFlags(row: SpecialRow): (boolean | undefined)[] {
  return [row.Source, row.Destination, row.Forwardable, row['Globally Reachable']].map((cell) =>
    cell.startsWith('True') ? true : cell.startsWith('False') ? false : undefined,
  );
}

function flagsOf(one: SpecialPurpose): (boolean | undefined)[] {
  return [one.source, one.destination, one.forwardable, one.globallyReachable];
}

/** `[RFC8190]\n[RFC919], Section 7` and `RFC 8190, RFC 919 §7` name the same documents. */
function documentsIn(citation: string): string[] {
  const matches = [...citation.matchAll(/RFC ?(\d+)|ietf-([a-z\d-]+)/g)];
  return matches.map(([, rfc, draft]) => rfc ?? draft ?? '').sort();
}

function width(range: { readonly first: number | bigint; readonly last: number | bigint }): bigint {
  return BigInt(range.last) - BigInt(range.first);
}

const SPACE_FILE = 'iana/ipv4-address-space.xml';

const spaceMissing = unpublished(SPACE_FILE);

describe.skipIf(spaceMissing !== undefined)(`IANA IPv4 Address Space Registry${skipped(spaceMissing)}`, () => {
  it('agrees about every /8 that is private, loopback, multicast or reserved for the future', () => {
    const designations = [...textOf(SPACE_FILE).matchAll(/<prefix>(\d+)\/8<\/prefix>\s*<designation>([^<]+)</g)];
    expect(designations).toHaveLength(256);
    for (const [, octet, designation] of designations) {
      const first = Number(octet) * 2 ** 24;
      for (const address of [first + 1, first + 2 ** 24 - 2]) {
        const label = `${formatAddress(address)}: ${designation ?? ''}`;
        expect(isMulticast(address), label).toBe(designation === 'Multicast');
        expect(isLoopback(address), label).toBe(designation === 'IANA - Loopback');
        expect(specialPurpose(address)?.name === 'Reserved', label).toBe(designation === 'Future use');
        expect(isPrivateUse(address), label).toBe(designation === 'IANA - Private Use');
      }
    }
  });
});

interface MulticastRegistry {
  readonly blocks: readonly { readonly title: string; readonly start?: string; readonly end?: string }[];
  readonly records: readonly {
    readonly name: string;
    readonly start?: string;
    readonly end?: string;
    readonly relative?: readonly [number, number];
    readonly refs: readonly string[];
  }[];
}

const MULTICAST_FILE = 'iana/ipv4-multicast.json';

const multicastMissing = unpublished(MULTICAST_FILE);

describe.skipIf(multicastMissing !== undefined)(
  `IANA IPv4 Multicast Address Space Registry${skipped(multicastMissing)}`,
  () => {
    const registry =
      multicastMissing === undefined
        ? (JSON.parse(textOf(MULTICAST_FILE)) as MulticastRegistry)
        : { blocks: [], records: [] };

    it('puts the ends of every block into one block of ours, or into the parts the RFCs cut it into', () => {
      let compared = 0;
      for (const { title, start, end } of registry.blocks) {
        if (start === undefined || end === undefined) continue;
        const kinds = [...new Set([start, end].map((address) => space.classifyGroup4(group4(address)).kind))];
        expect(kinds, title).toEqual(expectedKinds(title));
        compared++;
      }
      expect(compared).toBe(14);
    });

    it('begins and ends its blocks where ours begin and end', () => {
      const ours = new Set(space.GROUP_BLOCKS_4.map(({ range }) => formatAddress(range.first)));
      for (const { title, start } of registry.blocks)
        if (start !== undefined) expect(ours.has(start), title).toBe(true);
      // Two of our edges lie inside a block of the registry, at an edge of its records.
      const starts = new Set([...registry.blocks, ...registry.records].map(({ start }) => start));
      for (const first of ours) expect(starts.has(first), first).toBe(true);
    });

    it('calls reserved what our blocks call reserved, apart from the legacy assignments in 224.1.0.0/16', () => {
      let compared = 0;
      for (const { name, start, end } of registry.records) {
        if (start === undefined || end === undefined || !/^Reserved$/.test(name)) continue;
        for (const address of [start, end]) {
          expect(['reserved', 'source-specific-reserved'], address).toContain(
            space.classifyGroup4(group4(address)).kind,
          );
        }
        compared++;
      }
      expect(compared).toBe(7);
    });

    it('has a single-address record of the same name for every assignment of ours', () => {
      const published = new Map(registry.records.map((record) => [record.start, record]));
      expect(space.ASSIGNED_GROUPS_4.length).toBeGreaterThan(50);
      for (const { group, name, citation } of space.ASSIGNED_GROUPS_4) {
        const record = required(published.get(formatAddress(group)), formatAddress(group));
        expect(record.end).toBe(record.start);
        expect(name).toBe(record.name);
        const document = /^RFC (\d+)/.exec(citation)?.[1];
        if (document !== undefined) expect(record.refs, name).toContain(`rfc${document}`);
      }
    });

    it('assigns no group that it calls unassigned', () => {
      for (const { name, start, end } of registry.records) {
        if (start === undefined || end === undefined || !name.startsWith('Unassigned')) continue;
        for (let group = group4(start); group <= Math.min(group4(end), group4(start) + 1023); group++) {
          expect(space.assignedGroup4(group), formatAddress(group)).toBeUndefined();
        }
      }
    });

    it('names every offset from the top of a scope as we do (RFC 2365 §9)', () => {
      let offsets = 0;
      for (const { name, relative } of registry.records) {
        if (relative === undefined) continue;
        for (let offset = relative[0]; offset <= relative[1]; offset++) {
          for (const top of ['239.255.255.255', '239.195.255.255']) {
            expect(space.assignedGroup4(group4(top) - offset)?.name, `${top} - ${offset}`).toBe(name);
          }
          offsets++;
        }
      }
      expect(offsets).toBe(256);
    });

    const xmlMissing = unpublished('iana/multicast-addresses.xml');
    it.skipIf(xmlMissing !== undefined)(`is the same in its XML form${skipped(xmlMissing)}`, () => {
      const xml = textOf('iana/multicast-addresses.xml');
      const records = [...xml.matchAll(/<addr>([\d.]+)<\/addr>\s*<description>([^<]*)</g)];
      // Line breaks and indents inside a name are the XML's own.
      const named = new Map(records.map(([, address, name]) => [address, name?.replace(/\s+/g, ' ').trim()]));
      for (const { group, name } of space.ASSIGNED_GROUPS_4) expect(named.get(formatAddress(group))).toBe(name);
    });
  },
);

function expectedKinds(title: string): readonly string[] {
  if (title.startsWith('Source-Specific')) return ['source-specific-reserved', 'source-specific'];
  // 235/8 to 238/8 are reserved in the registry's own records (RFC 5771 §3).
  if (title.startsWith('Scoped Multicast')) return ['reserved', 'administratively-scoped'];
  const table: readonly (readonly [RegExp, string])[] = [
    [/^Local Network Control/, 'local-network-control'],
    [/^Internetwork Control/, 'internetwork-control'],
    [/^AD-HOC/, 'ad-hoc'],
    [/^RESERVED/, 'reserved'],
    [/^SDP\/SAP/, 'sdp-sap'],
    [/^DIS Transient/, 'dis-transient'],
    [/^GLOP/, 'glop'],
    [/^Unicast-Prefix/, 'unicast-prefix'],
  ];
  return table.filter(([pattern]) => pattern.test(title)).map(([, kind]) => kind);
}

interface Vectors {
  readonly macV4: readonly (readonly [string, string])[];
  readonly macV6: readonly (readonly [string, string])[];
  readonly glop: readonly { readonly asn: number; readonly prefix: string; readonly src: string }[];
  readonly ubm: readonly { readonly unicast: string; readonly multicast: string; readonly src: string }[];
  readonly scopeRelative: readonly {
    readonly scope: string;
    readonly offset: number;
    readonly addr: string;
    readonly name: string;
  }[];
}

const VECTOR_FILE = 'vectors/multicast-vectors.json';

const vectorsMissing = unpublished(VECTOR_FILE);

describe.skipIf(vectorsMissing !== undefined)(`published examples${skipped(vectorsMissing)}`, () => {
  const vectors =
    vectorsMissing === undefined
      ? (JSON.parse(textOf(VECTOR_FILE)) as Vectors)
      : { macV4: [], macV6: [], glop: [], ubm: [], scopeRelative: [] };

  it('maps every group to its multicast MAC (RFC 1112 §6.4, RFC 2464 §7)', () => {
    const all = [...vectors.macV4, ...vectors.macV6];
    expect(all.length).toBeGreaterThanOrEqual(20);
    for (const [group, mac] of all) {
      expect(formatMac(space.ethernetAddress(required(parseAddress(group), group))), group).toBe(mac);
      if (mac.startsWith('01:00:5e:00:00:')) expect(space.floodedEthernetAddress(group4(group)), group).toBe(true);
    }
  });

  it('maps every AS number to its groups (RFC 3180 §3.1, RFC 6676 §2.2)', () => {
    expect(vectors.glop.length).toBeGreaterThanOrEqual(3);
    for (const { asn, prefix, src } of vectors.glop) {
      const held = required(space.glopPrefix(asn), prefix);
      expect(formatPrefix(held), src).toBe(prefix);
      expect(space.glopAutonomousSystem(Number(held.network)), src).toBe(asn);
      expect(space.isDocumentationGroup(held.network), src).toBe(src.startsWith('RFC 6676'));
    }
  });

  it('maps every unicast prefix to its group (RFC 6034 §4, RFC 6676 §2.3)', () => {
    expect(vectors.ubm.length).toBeGreaterThanOrEqual(3);
    for (const { unicast, multicast, src } of vectors.ubm) {
      const group = Number(prefixOf(multicast).network);
      expect(formatPrefix(required(space.embeddedUnicastPrefix(group), multicast)), src).toBe(unicast);
      expect(space.ownsGroupByPrefix(prefixOf(unicast), group), src).toBe(true);
      expect(space.isDocumentationGroup(group), src).toBe(true);
    }
  });

  it('finds every scope-relative assignment (RFC 2365 §9, RFC 6676 §2.1)', () => {
    expect(vectors.scopeRelative.length).toBeGreaterThanOrEqual(5);
    for (const { scope, offset, addr, name } of vectors.scopeRelative) {
      expect(space.scopeRelativeOffset(group4(addr), prefixOf(scope)), addr).toBe(offset);
      // The vectors shorten the registry's names to their first word.
      expect(space.assignedGroup4(group4(addr))?.name.split(' ')[0], addr).toBe(name);
      expect(space.isDocumentationGroup(group4(addr)), addr).toBe(offset === 10);
    }
  });

  it('reads every group the vectors name, and finds it to be a group', () => {
    for (const [group] of vectors.macV6) expect(isMulticast(required(parseAddress6(group), group)), group).toBe(true);
    for (const [group] of vectors.macV4) expect(isMulticast(group4(group)), group).toBe(true);
  });
});
