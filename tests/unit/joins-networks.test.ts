/** Networks, links, ids and clocks of rigs that are joined. */
import { describe, expect, it } from 'vitest';
import { freeStretch } from '../../src/model/proposals/free-stretch.js';
import { joinedRigs } from '../../src/model/vlans/joined-rigs.js';
import { joinClasses, splitVlans } from '../../src/model/vlans/joined-vlans.js';
import { createModel } from '../../src/model/model.js';
import { sendersClash } from '../../src/model/groups/senders-clash.js';
import { saysVlans } from '../../src/model/vlans/trunks.js';
import type { Plan } from '../../src/plan/types.js';
import { formatAddress, formatRange } from '../../src/values/address.js';
import { HERON, DUNLIN, TERN, joinFile, read, vlan, port, switchedOf, labels } from '../tools/joined-plans.js';

describe('networks in a join', () => {
  const joins = 'joins: [{networks: [Heron:red, Dunlin:red]}]';

  it('meet: groups of one reach the other, while the VLANs stay apart', () => {
    const plan = read(HERON, DUNLIN, joinFile(joins));
    const { domains, groups } = createModel(plan);
    const [here, there] = [vlan(plan, 'Heron', 'red-video'), vlan(plan, 'Dunlin', 'red-pictures')];
    expect(domains.reach({ vlan: here, network: here.network })).toBe(
      domains.reach({ vlan: there, network: there.network }),
    );
    expect(switchedOf(domains, here)).not.toBe(switchedOf(domains, there));
    expect(groups.shared.filter(sendersClash).map(({ group }) => formatAddress(group))).toEqual(['239.192.10.11']);
  });

  it('take in no other network', () => {
    const plan = read(HERON, DUNLIN, joinFile(joins));
    const { domains } = createModel(plan);
    const [red, blue] = plan.networks.filter(({ rig }) => rig.name === 'Heron');
    expect(domains.reach({ vlan: undefined, network: red })).not.toBe(
      domains.reach({ vlan: undefined, network: blue }),
    );
  });
});

describe('a link between two rigs', () => {
  const join = 'joins: [{vlans: [red-video, red-pictures]}]';

  it('that names its VLANs makes both ports trunks, each of the own entries', () => {
    const plan = read(
      HERON,
      DUNLIN,
      joinFile(join, 'links: [{ends: [Heron:core/61, Dunlin:core/61], vlans: [red-video]}]'),
    );
    const [here, there] = [port(plan, 'Heron', '61'), port(plan, 'Dunlin', '61')];
    expect([here.access, there.access, here.native, there.native]).toEqual(Array(4).fill(undefined));
    expect([here, there].map(({ trunk }) => (Array.isArray(trunk) ? labels(trunk) : trunk))).toEqual([
      ['Heron:red-video'],
      ['Dunlin:red-pictures'],
    ]);
    // A neighbour of the same entry keeps what it was set to.
    expect(port(plan, 'Heron', '60').access?.name).toBe('control');
  });

  it('that names none leaves its ports as they are', () => {
    const plan = read(HERON, DUNLIN, joinFile(join, 'links: [{ends: [Heron:core/61, Dunlin:core/61]}]'));
    const here = port(plan, 'Heron', '61');
    expect(here.access?.name).toBe('control');
    expect(here.trunk).toBeUndefined();
    expect(saysVlans(here)).toBe(true);
  });

  it('within one rig leaves its ports as they are', () => {
    const plan = read(HERON, 'rig: Heron\nlinks: [{ends: [core/60, core/61], vlans: [red-video]}]');
    expect(port(plan, 'Heron', '60').access?.name).toBe('control');
  });
});

describe('rigs', () => {
  const groups = (plan: Plan): readonly string[] => {
    const siteOf = joinedRigs(plan);
    const sites = new Map<object, string[]>();
    for (const rig of plan.rigs) sites.set(siteOf(rig), [...(sites.get(siteOf(rig)) ?? []), rig.name]);
    return [...sites.values()].map((names) => names.sort().join(' + ')).sort();
  };

  it('are joined by VLANs, by networks, by a link, and through a third', () => {
    expect(groups(read(HERON, DUNLIN, TERN))).toEqual(['Dunlin', 'Heron', 'Tern']);
    expect(groups(read(HERON, DUNLIN, TERN, 'rig: Heron\njoins: [{vlans: [red-video, pictures]}]'))).toEqual([
      'Dunlin',
      'Heron + Tern',
    ]);
    expect(groups(read(HERON, DUNLIN, TERN, 'rig: Heron\njoins: [{networks: [red, Dunlin:red]}]'))).toEqual([
      'Dunlin + Heron',
      'Tern',
    ]);
    const link = 'rig: Heron\nlinks: [{ends: [Dunlin:core/60, tern-core/5]}]';
    expect(groups(read(HERON, DUNLIN, TERN, link))).toEqual(['Dunlin + Tern', 'Heron']);
    expect(groups(read(HERON, DUNLIN, TERN, `${link}\njoins: [{vlans: [red-video, pictures]}]`))).toEqual([
      'Dunlin + Heron + Tern',
    ]);
  });
});

describe('one id for VLANs that become one', () => {
  const never = (): undefined => undefined;

  it('is the one that most switches know, unless a VLAN that stays has it', () => {
    const join = joinFile('joins: [{vlans: [red-video, red-pictures]}]');
    const more = `
rig: Dunlin
switches: [{name: second, ports: [{name: 1, access: red-pictures}]}]`;
    expect(splitVlans(read(HERON, DUNLIN, more, join), never).map(({ id }) => id)).toEqual([110]);
    const taken = 'rig: Heron\nvlans: [{name: guests, id: 110}]';
    expect(splitVlans(read(HERON, DUNLIN, more, taken, join), never).map(({ id }) => id)).toEqual([210]);
    const both = `${taken.slice(0, -1)}, {name: lab, id: 210}]`;
    expect(splitVlans(read(HERON, DUNLIN, more, both, join), () => 999).map(({ id }) => id)).toEqual([999]);
    // A rig that nothing joins takes no id away.
    const tern = 'rig: Tern\nvlans: [{name: x, id: 110}]';
    expect(splitVlans(read(HERON, DUNLIN, more, tern, join), never).map(({ id }) => id)).toEqual([110]);
  });

  it('may be one that another joined VLAN gives up, and is given once', () => {
    const heron =
      'rig: Heron\nvlans: [{name: a, id: 1}, {name: b, id: 2}]\nswitches: [{name: s, ports: [{name: 1, access: a}, {name: 2, access: b}]}]';
    const dunlin = 'rig: Dunlin\nvlans: [{name: p, id: 2}, {name: q, id: 3}]';
    const split = splitVlans(read(heron, dunlin, joinFile('joins: [{vlans: [a, p]}, {vlans: [b, q]}]')), never);
    expect(split.map(({ vlans, id, until }) => [labels(vlans), id, labels(until)])).toEqual([
      [['Dunlin:p', 'Heron:a'], 1, []],
      [['Dunlin:q', 'Heron:b'], 2, ['Dunlin:p']],
    ]);
  });
});

describe('room for a DHCP range', () => {
  const stretch = (...hosts: readonly number[]): string | undefined => {
    const plan = read(
      HERON,
      DUNLIN.replace('192.168.10.11/24', '192.168.10.40/24').replace(
        'subnet: 192.168.10.0/24}',
        'subnet: 192.168.10.0/24, gateway: 192.168.10.1, dhcp: 192.168.10.100-192.168.10.199}',
      ),
      `rig: Heron\ndevices:\n${hosts
        .map(
          (host) => `  - {name: box-${host}, interfaces: [{name: c, vlan: control, address: 192.168.10.${host}/24}]}`,
        )
        .join('\n')}`,
      joinFile('joins: [{vlans: [Heron:control, Dunlin:control]}]'),
    );
    const entries = [vlan(plan, 'Dunlin', 'control'), vlan(plan, 'Heron', 'control')];
    const [own] = entries;
    const found = own === undefined ? undefined : freeStretch(own, entries, createModel(plan).addressing);
    return found === undefined ? undefined : formatRange(found);
  };

  it('is the longest run that nothing of any entry is in, the own range aside', () => {
    // Taken: 1 by the gateway, 11 and 40 by the hosts above; 255 is the broadcast address (RFC 1122 §3.2.1.3).
    expect(stretch(150)).toBe('192.168.10.41-192.168.10.149');
    expect(stretch(90, 200)).toBe('192.168.10.91-192.168.10.199');
    expect(stretch(90, 140, 190)).toBe('192.168.10.191-192.168.10.254');
    expect(stretch(68, 96, 124, 152, 180, 208, 236)).toBe('192.168.10.12-192.168.10.39');
  });
});

describe('a list of grandmasters in the file that joins rigs', () => {
  const clock = (rig: string, name: string): string =>
    `rig: ${rig}\ntiming: {domains: [{number: 127}]}\ndevices: [{name: ${name}, ptp: {domain: 127}}]`;
  const meant = (list: string): readonly string[] => {
    const plan = read(
      clock('Heron', 'clock'),
      clock('Dunlin', 'clock'),
      joinFile(`timing: {domains: [{number: ${list}}]}`),
    );
    const { timing } = createModel(plan);
    return timing.clocks.filter(({ meantToLead }) => meantToLead).map(({ rig }) => rig.name);
  };

  it('makes those it names meant to lead, in the domain of its number alone', () => {
    expect(meant('127, grandmasters: [Heron:clock, Dunlin:clock]')).toEqual(['Heron', 'Dunlin']);
    expect(meant('127, grandmasters: [Dunlin:clock]')).toEqual(['Dunlin']);
    expect(meant('5, grandmasters: [Heron:clock, Dunlin:clock]')).toEqual([]);
    expect(meant('127')).toEqual([]);
  });
});

describe('the order of documents', () => {
  it('changes nothing', () => {
    const files = [
      HERON,
      DUNLIN,
      TERN,
      joinFile(
        'joins: [{vlans: [red-video, red-pictures]}, {vlans: [red-pictures, pictures]}, {networks: [Heron:red, Dunlin:red]}]',
        'links: [{ends: [Heron:core/61, Dunlin:core/61], vlans: [red-video]}]',
      ),
    ];
    const say = (texts: readonly string[]): unknown => {
      const plan = read(...texts);
      const { domains, groups } = createModel(plan);
      return {
        classes: joinClasses(plan)
          .map((one) => labels(one))
          .sort(),
        ids: splitVlans(plan, () => undefined).map(({ vlans, id }) => [labels(vlans), id]),
        domains: plan.vlans
          .map((one) => `${one.rig.name}:${one.name} ${domains.switched({ vlan: one, network: one.network }).title}`)
          .sort(),
        groups: groups.shared.map(({ group, domain }) => `${formatAddress(group)} ${domain.title}`).sort(),
        ties: ['Heron', 'Dunlin'].map((rig) => {
          const { trunk } = port(plan, rig, '61');
          return Array.isArray(trunk) ? labels(trunk) : trunk;
        }),
      };
    };
    const [first, ...rest] = permutations(files).map(say);
    expect(rest).toHaveLength(23);
    for (const other of rest) expect(other).toEqual(first);
  });
});

function permutations<T>(items: readonly T[]): readonly (readonly T[])[] {
  if (items.length < 2) return [items];
  return items.flatMap((item, index) =>
    permutations([...items.slice(0, index), ...items.slice(index + 1)]).map((rest) => [item, ...rest]),
  );
}
