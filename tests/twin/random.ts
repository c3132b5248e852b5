/** Random small rigs of Linux bridges: up to four switches in a tree, one or two VLANs, two to eight hosts. */
import fc from 'fast-check';
import type { ShortHost, ShortLink, ShortReceiver, ShortRig, ShortVlan } from './rigs.js';

/**
 * Few, so that several hosts send one group. Three share an Ethernet address, which a bridge that keys by group tells
 * apart; one shares its Ethernet address with 224.0.0.9, one is of 224.0.0.0/24 itself.
 */
const GROUPS = ['239.1.1.1', '239.1.1.2', '239.129.1.1', '232.1.1.1', '239.128.0.9', '224.0.0.200'] as const;

export function randomRigs(count: number, seed: number): readonly ShortRig[] {
  return fc.sample(RIG, { numRuns: count, seed });
}

const RIG: fc.Arbitrary<ShortRig> = fc
  .record({
    parents: fc.array(fc.nat(99), { maxLength: 3 }),
    vlans: fc.array(
      fc.record({
        snooping: fc.constantFrom(true, true, true, true, true, false),
        version: fc.constantFrom(3 as const, 3 as const, 2 as const),
        queriers: fc.array(fc.nat(99), { maxLength: 2 }),
        hostQueries: fc.constantFrom(false, false, false, true),
        hostRoutes: fc.constantFrom(false, false, false, true),
        speaker: fc.nat(99),
      }),
      { minLength: 1, maxLength: 2 },
    ),
    cut: fc.array(fc.constantFrom(false, false, false, true), { minLength: 3, maxLength: 3 }),
    hosts: fc.array(
      fc.record({
        at: fc.nat(99),
        vlan: fc.nat(99),
        sends: fc.uniqueArray(fc.constantFrom(...GROUPS), { maxLength: 2 }),
        receives: fc.array(
          fc.record({
            of: fc.nat(99),
            group: fc.constantFrom(...GROUPS),
            how: fc.constantFrom('takes', 'takes any', 'takes stated', 'group', 'group and source'),
          }),
          { maxLength: 2 },
        ),
      }),
      { minLength: 2, maxLength: 8 },
    ),
  })
  .map(({ parents, vlans, cut, hosts: drafts }) => {
    const switches = ['sw-0', ...parents.map((_, index) => `sw-${index + 1}`)];
    const vlanNames = vlans.map((_, index) => ['red', 'blue'][index] ?? '');
    const pick = <T>(list: readonly T[], number: number): T => list[number % list.length] as T;
    // A cut link carries the first VLAN only, which leaves the second in two parts.
    const links = parents.map((parent, index): ShortLink => ({
      between: [switches[parent % (index + 1)] ?? '', switches[index + 1] ?? ''],
      ...(cut[index] === true ? { vlans: vlanNames.slice(0, 1) } : {}),
    }));
    const spots = drafts.map(({ at, vlan }) => ({ at: pick(switches, at), vlan: pick(vlanNames, vlan) }));
    /** In each VLAN, the host that queries or routes where one does. */
    const speakers = vlans.map(({ speaker }, index) => {
      const inside = spots.flatMap(({ vlan }, host) => (vlan === vlanNames[index] ? [host] : []));
      return inside.length === 0 ? undefined : pick(inside, speaker);
    });
    const routers = vlans.map(({ snooping, hostRoutes }, index) =>
      snooping && hostRoutes ? speakers[index] : undefined,
    );
    // A router queries too; with the highest address it wins only where nobody is planned to query.
    const placed = drafts.map(({ sends }, host) => ({
      name: `host-${host}`,
      at: '',
      vlan: '',
      ...spots[host],
      sends,
      address: routers.includes(host) ? '10.0.255.200' : `10.0.0.${host + 10}`,
    }));
    const sent = placed.flatMap((host) => host.sends.map((group) => ({ takes: `${host.name}/${group}` })));
    const hosts = placed.map((host, index): ShortHost => ({
      ...host,
      receives: (drafts[index]?.receives ?? []).flatMap(({ of, group, how }) =>
        receiverOf(how, group, sent.length === 0 ? undefined : pick(sent, of).takes, pick(placed, of).address),
      ),
    }));
    const settings = vlans.map(({ snooping, version, queriers, hostQueries }, index): ShortVlan => {
      if (!snooping) return { snooping };
      const speaker = placed[speakers[index] ?? -1];
      const router = placed[routers[index] ?? -1];
      const rising = (queriers[0] ?? 0) % 2 === 0;
      const there = new Set([
        ...placed.filter((one) => one.vlan === vlanNames[index]).map(({ at }) => at),
        ...links
          .filter((link) => link.vlans?.includes(vlanNames[index] ?? '') !== false)
          .flatMap(({ between }) => between),
      ]);
      const on = [...new Set(there.size === 0 ? [] : queriers.map((number) => pick([...there], number)))].map(
        (name, order) => ({ on: name, address: `10.0.${rising ? 250 + order : 254 - order}.1` }),
      );
      const speaks = hostQueries && speaker !== undefined ? [{ on: speaker.name, address: speaker.address }] : [];
      return { version, queriers: [...on, ...speaks], ...(router === undefined ? {} : { routers: [router.name] }) };
    });
    return {
      switches,
      links,
      hosts,
      vlans: Object.fromEntries(settings.map((one, index) => [vlanNames[index] ?? '', one])),
    };
  });

function receiverOf(how: string, group: string, takes: string | undefined, source: string): readonly ShortReceiver[] {
  if (how === 'group') return [{ group }];
  if (how === 'group and source') return [{ group, source }];
  if (takes === undefined) return [];
  return [how === 'takes' ? { takes } : { takes, join: how === 'takes any' ? 'any' : 'stated' }];
}
