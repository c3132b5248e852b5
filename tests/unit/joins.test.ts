/**
 * Joins: which VLAN entries become one, which networks meet, what the ports of a tie carry, and that the order of files
 * changes nothing. Checked against what 802.1Q says of tags: a VLAN passes a link under one id only (IEEE 802.1Q-2022
 * §9.6, clause number from memory), so entries that are to pass have to be one whatever their ids are today.
 */
import { describe, expect, it } from 'vitest';
import { buildDomains } from '../../src/model/vlans/domains.js';
import { joinClasses } from '../../src/model/vlans/joined-vlans.js';
import { createModel } from '../../src/model/model.js';
import { otherEntries, sharedVlans } from '../../src/model/vlans/shared-vlans.js';
import { sendersClash } from '../../src/model/groups/senders-clash.js';
import { formatAddress } from '../../src/values/address.js';
import { HERON, DUNLIN, TERN, joinFile, read, vlan, switchedOf, labels } from '../tools/joined-plans.js';

describe('names in a join', () => {
  it('are found with their rig before them, and without where one rig alone has them', () => {
    const plan = read(HERON, DUNLIN, joinFile('joins: [{vlans: [Heron:control, Dunlin:control, red-pictures]}]'));
    expect(plan.unresolved).toEqual([]);
    expect(plan.joins.map(({ vlans }) => labels(vlans))).toEqual([
      ['Dunlin:control', 'Dunlin:red-pictures', 'Heron:control'],
    ]);
  });

  it('lead nowhere where two rigs have them, where the rig is unknown, and where the rig has not got them', () => {
    const plan = read(HERON, DUNLIN, joinFile('joins: [{vlans: [control, Tern:control, Dunlin:red-video]}]'));
    expect(plan.unresolved.map(({ text, wanted, by }) => `${wanted.kind} ${text} by ${by.kind}`)).toEqual([
      'vlan control by join',
      'vlan Tern:control by join',
      'vlan Dunlin:red-video by join',
    ]);
    expect(plan.unresolved[0]?.suggestions).toEqual(expect.arrayContaining(['Dunlin:control', 'Heron:control']));
    expect(plan.joins.flatMap(({ vlans }) => vlans)).toEqual([]);
  });

  it('mean the own rig of the file where it has them', () => {
    const plan = read(HERON, DUNLIN, 'rig: Heron\njoins: [{vlans: [control, Dunlin:control]}]');
    expect(labels(plan.joins[0]?.vlans ?? [])).toEqual(['Dunlin:control', 'Heron:control']);
  });

  it('may hold a colon themselves, and so may the names of rigs', () => {
    const plan = read(
      'rig: "Kestrel: Heron"\nvlans: [{name: "a:b", id: 1}, {name: c, id: 2}]',
      'rig: Dunlin\nvlans: [{name: "a:b", id: 3}, {name: c, id: 4}]',
      joinFile('joins: [{vlans: ["Kestrel: Heron:a:b", "Dunlin:a:b"]}, {vlans: ["Kestrel: Heron:c", "Dunlin:c"]}]'),
    );
    expect(plan.unresolved).toEqual([]);
    expect(plan.joins.map(({ vlans }) => vlans.map(({ id }) => id))).toEqual([
      [1, 3],
      [2, 4],
    ]);
  });
});

describe('VLANs in a join', () => {
  const joins = 'joins: [{vlans: [red-video, red-pictures]}]';

  it('are one switched domain whatever their ids are, and stay apart without the join', () => {
    for (const [file, expected] of [
      [joinFile(joins), true],
      [joinFile(), false],
    ] as const) {
      const plan = read(HERON, DUNLIN, file);
      const domains = buildDomains(plan);
      const here = switchedOf(domains, vlan(plan, 'Heron', 'red-video'));
      expect(here === switchedOf(domains, vlan(plan, 'Dunlin', 'red-pictures'))).toBe(expected);
      expect(here).not.toBe(switchedOf(domains, vlan(plan, 'Dunlin', 'control')));
    }
  });

  it('make all of two joins one where they share a VLAN, in whatever order they are written', () => {
    const files = [
      '[{vlans: [red-video, red-pictures]}, {vlans: [red-pictures, pictures]}]',
      '[{vlans: [pictures, red-pictures]}, {vlans: [red-video, red-pictures]}]',
      '[{vlans: [pictures, Tern:control]}, {vlans: [red-video, red-pictures]}, {vlans: [Tern:control, red-video]}]',
    ];
    for (const file of files) {
      const plan = read(HERON, DUNLIN, TERN, joinFile(`joins: ${file}`));
      const classes = joinClasses(plan);
      expect(classes.map((one) => labels(one))).toEqual([
        [
          'Dunlin:red-pictures',
          'Heron:red-video',
          ...(file.includes('Tern:control') ? ['Tern:control'] : []),
          'Tern:pictures',
        ],
      ]);
      expect(vlan(plan, 'Heron', 'control').joinedAs).toBeUndefined();
    }
  });

  it('let their groups and addresses clash', () => {
    const clashes = (text: string): readonly string[] =>
      createModel(read(HERON, DUNLIN, joinFile(text)))
        .groups.shared.filter(sendersClash)
        .map(({ group }) => formatAddress(group));
    expect(clashes(joins)).toEqual(['239.192.10.11']);
    expect(clashes('')).toEqual([]);
    const wire = (text: string): boolean => {
      const plan = read(HERON, DUNLIN, joinFile(text));
      const { unicastReach } = createModel(plan);
      return unicastReach.wire(vlan(plan, 'Heron', 'control')) === unicastReach.wire(vlan(plan, 'Dunlin', 'control'));
    };
    expect(wire('joins: [{vlans: [Heron:control, Dunlin:control]}]')).toBe(true);
    expect(wire(joins)).toBe(false);
  });

  it('are shared VLANs, and so are those that a link ties under one id and one subnet', () => {
    const tie = 'links: [{ends: [Heron:core/60, Dunlin:core/60]}]';
    const plan = read(HERON, DUNLIN, joinFile(joins, tie));
    const shared = sharedVlans({ vlans: plan.vlans, domains: buildDomains(plan) });
    expect(shared.map((one) => labels(one)).sort()).toEqual([
      ['Dunlin:control', 'Heron:control'],
      ['Dunlin:red-pictures', 'Heron:red-video'],
    ]);
    const othersOf = otherEntries(shared);
    expect(labels(othersOf(vlan(plan, 'Dunlin', 'control')))).toEqual(['Heron:control']);
    const apart = read(HERON, DUNLIN);
    expect(sharedVlans({ vlans: apart.vlans, domains: buildDomains(apart) })).toEqual([]);
  });
});
