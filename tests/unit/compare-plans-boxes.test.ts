/** Steps at switches, clocks and devices, and the order of work. */
import { describe, expect, it } from 'vitest';
import { comparePlans } from '../../src/compare/compare.js';
import { orderSteps } from '../../src/compare/order.js';
import { loadPlan } from '../../src/plan/load.js';
import type { Plan } from '../../src/plan/types.js';
import { BASE, planOf, compared, words } from '../tools/compared-plans.js';

describe('switches, links and clocks', () => {
  it('ports that change alike are one step', () => {
    expect(words(compared(['name: 1-8, rate: 25G', 'name: 1-8, rate: 10G']))).toEqual([
      'set switch red-core ports 1-8: rate 25 Gbit/s > 10 Gbit/s',
    ]);
  });

  it('a cable is moved at the end that moves', () => {
    expect(words(compared(['[red-core/9, red-start/9]', '[red-core/9, red-start/8]']))).toEqual([
      'add switch red-start port 8: cable - > R01 to red-core/9',
      'remove switch red-start port 9: cable R01 to red-core/9 > -',
    ]);
    expect(words(compared(['length: 300 m', 'length: 400 m']))).toEqual(['set plan link R01: length 300 m > 400 m']);
  });

  it('what a domain states is set at its clocks', () => {
    expect(words(compared(['logAnnounceInterval: 0', 'logAnnounceInterval: -2']))).toEqual([
      // IEEE 1588-2008 §7.7.2.1: intervals are powers of two seconds.
      'set cam-31 clock: announce interval 0 (1 s) > -2 (0.25 s)',
    ]);
    expect(words(compared(['priority1: 255', 'priority1: 128']))).toEqual(['set cam-31 clock: priority1 255 > 128']);
  });

  it('promises of the conventions are paper', () => {
    expect(words(compared(['239.192.0.0/24', '239.192.0.0/23']))).toEqual([
      'set plan conventions network red, video: groups 239.192.0.0-239.192.0.255 > 239.192.0.0-239.192.1.255',
    ]);
  });
});

describe('devices', () => {
  it('one with the same MAC address is renamed, and its streams are the same', () => {
    const comparison = comparePlans(planOf(BASE), planOf(BASE.replaceAll('cam-31', 'camera-start')));
    expect(words(comparison)).toEqual(['rename camera-start: name cam-31 > camera-start']);
    expect(comparison.summary).toMatchObject({ devicesRenamed: 1, devicesNew: 0, devicesGone: 0, streamsNew: 0 });
  });

  it('one without is renamed where all its addresses are the same', () => {
    const comparison = comparePlans(planOf(BASE), planOf(BASE.replaceAll('cam-32', 'camera-finish')));
    expect(words(comparison)).toEqual(['rename camera-finish: name cam-32 > camera-finish']);
    const other = BASE.replaceAll('cam-32', 'camera-finish').replace('10.20.10.32', '10.20.10.33');
    expect(comparePlans(planOf(BASE), planOf(other)).summary).toMatchObject({ devicesNew: 1, devicesGone: 1 });
  });

  it('a new one is set up from its card, one that goes is taken away as a whole', () => {
    const without = BASE.slice(0, BASE.indexOf('  - name: recorder'));
    expect(words(comparePlans(planOf(without), planOf(BASE)))).toEqual(['add recorder: device - > recorder']);
    expect(words(comparePlans(planOf(BASE), planOf(without)))).toEqual(['remove recorder: device recorder > -']);
  });

  it('single rigs are one rig under two names', () => {
    expect(words(comparePlans(planOf(BASE), planOf(BASE.replace('rig: Heron', 'rig: Dunlin'))))).toEqual([
      'rename plan rig: name Heron > Dunlin',
    ]);
  });
});

describe('names', () => {
  it('that are used twice are matched in the order they are written', () => {
    const twice = (second: string): Plan =>
      planOf(`devices: [{name: cam-1, area: pontoon}, {name: cam-1, area: ${second}}]`);
    expect(words(comparePlans(twice('tower'), twice('tower')))).toEqual([]);
    expect(words(comparePlans(twice('tower'), twice('boathouse')))).toEqual(['set cam-1: area tower > boathouse']);
  });

  it('of two rigs are told apart, and a tie makes trunks of its ports', () => {
    const rig = (name: string, id: number): { readonly name: string; readonly text: string } => ({
      name: `${name}.yaml`,
      text: `
rig: ${name}
networks: [{name: red, leg: 1}]
vlans: [{name: red-video, id: ${id}, network: red}]
switches: [{name: red-${name}, ports: [{name: 1-4, access: red-video}]}]
`,
    });
    const tie = {
      name: 'join.yaml',
      text: `
rig: Kestrel Bay
joins: [{vlans: ['Heron:red-video', 'Dunlin:red-video']}]
links: [{name: tie, ends: [red-Heron/4, red-Dunlin/1], vlans: ['Heron:red-video']}]
`,
    };
    const apart = [rig('Heron', 110), rig('Dunlin', 110)];
    expect(words(comparePlans(loadPlan(apart).plan, loadPlan([...apart, tie]).plan))).toEqual([
      'add plan joins: join - > Dunlin:red-video, Heron:red-video',
      'add switch red-Dunlin port 1: cable - > tie to red-Heron/4',
      'add switch red-Heron port 4: cable - > tie to red-Dunlin/1',
      'set switch red-Dunlin port 1: access VLAN red-video (110) > -',
      'set switch red-Dunlin port 1: tagged VLANs - > red-video (110)',
      'set switch red-Heron port 4: access VLAN red-video (110) > -',
      'set switch red-Heron port 4: tagged VLANs - > red-video (110)',
    ]);
    const renumbered = comparePlans(loadPlan(apart).plan, loadPlan([rig('Heron', 110), rig('Dunlin', 210)]).plan);
    expect(renumbered.steps.map((one) => [one.rig, one.box.name, one.what])).toEqual([
      ['Dunlin', 'red-Dunlin', 'VLAN id'],
    ]);
  });
});

describe('rates', () => {
  it('a device follows its port, unless it is said to run at another rate', () => {
    expect(words(compared(['address: 10.20.10.41, port', 'rate: 10G, address: 10.20.10.41, port']))).toEqual([
      'set recorder red: rate 25 Gbit/s > 10 Gbit/s',
    ]);
  });
});

describe('the order of work', () => {
  const comparison = compared(
    ['id: 110', 'id: 210'],
    ['id: 120', 'id: 220'],
    ['priority1: 255', 'priority1: 128'],
    ['address: 10.20.10.32,', 'address: 10.20.10.92,'],
    ['group: 239.192.0.31, port: 20000', 'group: 239.192.0.99, port: 20000'],
    ['group: 239.193.0.31, port: 20000', 'group: 239.193.0.99, port: 20000'],
    ['address: 192.168.10.31', 'address: 192.168.10.91'],
    ['length: 300 m', 'length: 400 m'],
  );
  const { stages, untouched } = orderSteps(comparison);

  it('does one leg before the other, control last of what is done at boxes, paper at the end', () => {
    expect(stages.map(({ network }) => network)).toEqual(['red', 'blue', 'control', undefined]);
    expect(untouched).toEqual([]);
    expect(stages.at(-1)?.steps.map(({ box }) => box.kind)).toEqual(['plan']);
  });

  it('does switches, clocks, interfaces, senders, receivers, each by name', () => {
    expect(stages[0]?.steps.map(({ part, box }) => `${part} ${box.name}`)).toEqual([
      'switches red-core',
      'switches red-start',
      'clocks cam-31',
      'interfaces cam-32',
      'senders cam-31',
      'receivers recorder',
      'receivers vision',
    ]);
  });

  it('numbers every step once, from 1', () => {
    expect(stages.flatMap(({ steps }) => steps.map(({ number }) => number))).toEqual(
      comparison.steps.map((_, index) => index + 1),
    );
  });

  it('names the control network where nothing changes on it', () => {
    const { untouched: alone } = orderSteps(compared(['id: 110', 'id: 210']));
    expect(alone.map(({ name }) => name)).toEqual(['control']);
  });
});
