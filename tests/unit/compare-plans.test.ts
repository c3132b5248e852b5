/**
 * What changed between two plans: each kind of change gives exactly its steps, at the boxes where the work is. Which box
 * that is is common practice, no source, but where a standard is named.
 */
import { describe, expect, it } from 'vitest';
import { comparePlans } from '../../src/compare/compare.js';
import { orderSteps } from '../../src/compare/order.js';
import type { Comparison, Step } from '../../src/compare/steps.js';
import { loadPlan } from '../../src/lint/lint.js';
import type { Plan } from '../../src/plan/types.js';

const BASE = `
rig: Heron
house: {groups: [{network: red, essence: video, ranges: [239.192.0.0/24]}]}
networks: [{name: red, leg: 1}, {name: blue, leg: 2}, {name: control, role: control}]
vlans:
  - name: red-video
    id: 110
    network: red
    subnet: 10.20.10.0/24
    gateway: 10.20.10.254
    igmp: {snooping: true, version: 3, queryInterval: 30, querier: [{on: red-core, address: 10.20.10.1}]}
  - {name: blue-video, id: 120, network: blue, subnet: 10.21.10.0/24}
  - {name: control, id: 100, network: control, subnet: 192.168.10.0/24}
switches:
  - name: red-core
    ports: [{name: 1-8, rate: 25G, access: red-video}, {name: 9, trunk: [red-video]}]
    addresses: [{vlan: red-video, address: 10.20.10.1/24}]
  - {name: red-start, ports: [{name: 1-8, rate: 25G, access: red-video}, {name: 9, trunk: [red-video]}]}
  - {name: blue-core, ports: [{name: 1-8, access: blue-video}]}
links: [{name: R01, ends: [red-core/9, red-start/9], length: 300 m}]
timing:
  domains: [{name: all, number: 127, logAnnounceInterval: 0}]
  linkOffset: 3 ms
formats: [{name: picture, coding: st2110-20, width: 1920, height: 1080, frameRate: 50}]
devices:
  - name: cam-31
    ptp: {domain: 127, priority1: 255}
    interfaces:
      - {name: red, vlan: red-video, address: 10.20.10.31, mac: '02:00:5e:10:00:31', port: red-start/1}
      - {name: blue, vlan: blue-video, address: 10.21.10.31, port: blue-core/1}
      - {name: control, vlan: control, address: 192.168.10.31}
    senders:
      - name: picture
        format: picture
        legs:
          - {interface: red, group: 239.192.0.31, port: 20000}
          - {interface: blue, group: 239.193.0.31, port: 20000}
  - name: cam-32
    interfaces: [{name: red, vlan: red-video, address: 10.20.10.32, port: red-start/2}]
    senders: [{name: picture, format: picture, legs: [{interface: red, group: 239.192.0.32, port: 20000}]}]
  - name: vision
    interfaces:
      - {name: red, vlan: red-video, address: 10.20.10.40, port: red-core/1}
      - {name: blue, vlan: blue-video, address: 10.21.10.40, port: blue-core/2}
    receivers: [{name: in-31, takes: cam-31/picture}, {name: in-32, takes: cam-32/picture, interfaces: [red]}]
  - name: recorder
    interfaces: [{name: red, vlan: red-video, address: 10.20.10.41, port: red-core/2}]
    receivers: [{name: track-31, legs: [{interface: red, group: 239.192.0.31}]}]
`;

function planOf(text: string): Plan {
  const { plan, problems } = loadPlan([{ name: 'plan.yaml', text }]);
  expect(problems).toEqual([]);
  return plan;
}

function compared(...changes: readonly (readonly [string, string])[]): Comparison {
  const changed = changes.reduce((text, [old, now]) => {
    expect(text, 'the change is one').toContain(old);
    return text.replace(old, now);
  }, BASE);
  return comparePlans(planOf(BASE), planOf(changed));
}

/** `set cam-31 red, leg 1: group 239.192.0.31 > 239.192.0.99`. */
function words({ steps }: Comparison): readonly string[] {
  return steps
    .map(({ action, box, at, what, old, new: now }: Step) => {
      const where = `${box.kind === 'device' ? '' : `${box.kind} `}${box.name}${at === undefined ? '' : ` ${at}`}`;
      return `${action} ${where}: ${what} ${old ?? '-'} > ${now ?? '-'}`;
    })
    .sort();
}

describe('streams', () => {
  it('a new group is a step at the sender, and one at each receiver of that leg', () => {
    const comparison = compared(['group: 239.192.0.31, port: 20000', 'group: 239.192.0.99, port: 20000']);
    expect(words(comparison)).toEqual([
      'patch recorder track-31, leg 1: group 239.192.0.31 > 239.192.0.99',
      'patch vision in-31, leg 1: group 239.192.0.31 > 239.192.0.99',
      'set cam-31 picture, leg 1: group 239.192.0.31 > 239.192.0.99',
    ]);
    expect(comparison.steps.filter(({ action }) => action === 'patch').map(({ why }) => why)).toEqual([
      'cam-31/picture moved',
      'cam-31/picture moved',
    ]);
    expect(comparison.summary).toMatchObject({
      streamsReaddressed: 1,
      receiversAffected: 2,
      devicesToTouch: 3,
      switchesToTouch: 0,
      onPaper: 0,
    });
  });

  it('a receiver that states its group is set, not patched', () => {
    expect(
      words(
        compared(
          ['group: 239.192.0.31, port: 20000', 'group: 239.192.0.99, port: 20000'],
          ['interface: red, group: 239.192.0.31}', 'interface: red, group: 239.192.0.99}'],
        ),
      ),
    ).toEqual([
      'patch vision in-31, leg 1: group 239.192.0.31 > 239.192.0.99',
      'set cam-31 picture, leg 1: group 239.192.0.31 > 239.192.0.99',
      'set recorder track-31, leg 1: group 239.192.0.31 > 239.192.0.99',
    ]);
  });

  it('a receiver that states a group another stream takes over stays where it is', () => {
    expect(
      words(
        compared(
          ['group: 239.192.0.31, port: 20000', 'group: 239.192.0.99, port: 20000'],
          ['group: 239.192.0.32, port', 'group: 239.192.0.31, port'],
        ),
      ),
    ).toEqual([
      'patch vision in-31, leg 1: group 239.192.0.31 > 239.192.0.99',
      'patch vision in-32, leg 1: group 239.192.0.32 > 239.192.0.31',
      'set cam-31 picture, leg 1: group 239.192.0.31 > 239.192.0.99',
      'set cam-32 picture, leg 1: group 239.192.0.32 > 239.192.0.31',
    ]);
  });

  it('a new UDP port is known to receivers by their stream, by name or by group', () => {
    expect(words(compared(['group: 239.192.0.31, port: 20000', 'group: 239.192.0.31, port: 20002']))).toEqual([
      'patch recorder track-31, leg 1: UDP port 20000 > 20002',
      'patch vision in-31, leg 1: UDP port 20000 > 20002',
      'set cam-31 picture, leg 1: UDP port 20000 > 20002',
    ]);
  });

  it('a new address touches receivers only where they filter by source (RFC 4607 §3)', () => {
    const moved: readonly [string, string] = ['address: 10.20.10.31, mac', 'address: 10.20.10.91, mac'];
    expect(words(compared(moved))).toEqual(['set cam-31 red: address 10.20.10.31/24 > 10.20.10.91/24']);
    expect(compared(moved).summary).toMatchObject({ streamsReaddressed: 1, receiversAffected: 0 });
    const specific = BASE.replaceAll('239.192.0.31', '232.1.0.31');
    const comparison = comparePlans(planOf(specific), planOf(specific.replace(...moved)));
    expect(words(comparison)).toEqual([
      'patch recorder track-31, leg 1: source 10.20.10.31 > 10.20.10.91',
      'patch vision in-31, leg 1: source 10.20.10.31 > 10.20.10.91',
      'set cam-31 red: address 10.20.10.31/24 > 10.20.10.91/24',
    ]);
  });

  it('one that goes is taken down, its receivers left with nothing', () => {
    const comparison = compared([
      'senders: [{name: picture, format: picture, legs: [{interface: red, group: 239.192.0.32, port: 20000}]}]',
      'senders: []',
    ]);
    expect(words(comparison)).toEqual([
      'remove cam-32 picture, leg 1: stream 239.192.0.32:20000 > -',
      'set vision in-32: takes cam-32/picture > -',
    ]);
    expect(comparison.summary).toMatchObject({ streamsGone: 1, streamsReaddressed: 0, receiversAffected: 1 });
  });

  it('another format is a step where it is sent, and one on paper', () => {
    expect(words(compared(['frameRate: 50', 'frameRate: 25']))).toEqual([
      'set cam-31 picture: format frame rate 50 > frame rate 25',
      'set cam-32 picture: format frame rate 50 > frame rate 25',
      'set plan format picture: frame rate 50 > 25',
    ]);
  });

  it('known from a list only are boxes of their own', () => {
    const list = (group: string): Plan => planOf(`streams: [{name: feed, legs: [{group: ${group}, port: 5004}]}]`);
    expect(words(comparePlans(list('239.1.1.1'), list('239.1.1.2')))).toEqual([
      'set feed leg 1: group 239.1.1.1 > 239.1.1.2',
    ]);
  });
});

describe('receivers', () => {
  it('one pointed at another stream is one step, whatever numbers come with it', () => {
    expect(words(compared(['in-32, takes: cam-32/picture', 'in-32, takes: cam-31/picture']))).toEqual([
      'set vision in-32: takes cam-32/picture > cam-31/picture',
    ]);
  });

  it('the link offset is set at every device that takes sound (AES67-2018 §7.5), else it is paper', () => {
    const change: readonly [string, string] = ['linkOffset: 3 ms', 'linkOffset: 1 ms'];
    expect(words(compared(change))).toEqual(['set plan timing: link offset 3 ms > 1 ms']);
    const sound = BASE.replaceAll('coding: st2110-20', 'coding: st2110-30');
    expect(words(comparePlans(planOf(sound), planOf(sound.replace(...change))))).toEqual([
      'set vision sound inputs: link offset 3 ms > 1 ms',
    ]);
  });
});

describe('VLANs', () => {
  it('a new id is a step at each switch that carries the VLAN, and at no port', () => {
    const comparison = compared(['id: 110', 'id: 210']);
    expect(words(comparison)).toEqual([
      'set switch red-core VLAN red-video: VLAN id 110 > 210',
      'set switch red-start VLAN red-video: VLAN id 110 > 210',
    ]);
    expect(comparison.summary).toMatchObject({ switchesToTouch: 2, devicesToTouch: 0 });
  });

  it('one nobody carries changes on paper', () => {
    expect(words(compared(['id: 100', 'id: 101']))).toEqual(['set plan VLAN control: VLAN id 100 > 101']);
  });

  it('another gateway is a step at each interface that has it', () => {
    expect(words(compared(['gateway: 10.20.10.254', 'gateway: 10.20.10.253']))).toEqual([
      'set cam-31 red: gateway 10.20.10.254 > 10.20.10.253',
      'set cam-32 red: gateway 10.20.10.254 > 10.20.10.253',
      'set plan VLAN red-video: gateway 10.20.10.254 > 10.20.10.253',
      'set recorder red: gateway 10.20.10.254 > 10.20.10.253',
      'set vision red: gateway 10.20.10.254 > 10.20.10.253',
    ]);
  });

  it('another prefix length is a step at each interface that takes it from the VLAN', () => {
    const comparison = compared(['subnet: 10.21.10.0/24', 'subnet: 10.21.10.0/23']);
    expect(words(comparison)).toEqual([
      'set cam-31 blue: address 10.21.10.31/24 > 10.21.10.31/23',
      'set plan VLAN blue-video: subnet 10.21.10.0/24 > 10.21.10.0/23',
      'set vision blue: address 10.21.10.40/24 > 10.21.10.40/23',
    ]);
    expect(comparison.steps.find(({ box }) => box.name === 'vision')?.why).toContain('blue-video');
  });

  it('timers are set where queries come from, snooping wherever the VLAN is carried', () => {
    expect(words(compared(['queryInterval: 30', 'queryInterval: 60']))).toEqual([
      'set switch red-core VLAN red-video: query interval 30 s > 60 s',
    ]);
    expect(words(compared(['snooping: true', 'snooping: false']))).toEqual([
      'set switch red-core VLAN red-video: IGMP snooping yes > no',
      'set switch red-start VLAN red-video: IGMP snooping yes > no',
    ]);
  });

  it('a querier that moves is taken down at one switch and set up at the other', () => {
    expect(words(compared(['{on: red-core, address', '{on: red-start, address']))).toEqual([
      'add switch red-start VLAN red-video: querier - > 10.20.10.1',
      'remove switch red-core VLAN red-video: querier 10.20.10.1 > -',
    ]);
  });

  it('a new name for the same id is paper', () => {
    const renamed = comparePlans(planOf(BASE), planOf(BASE.replaceAll('red-video', 'red-pictures')));
    expect(words(renamed)).toEqual(['rename plan VLAN red-pictures: name red-video > red-pictures']);
  });

  it('one a switch carries from now on has to be made there first', () => {
    expect(words(compared(['trunk: [red-video]}]\n', 'trunk: [red-video, control]}]\n']))).toEqual([
      'add switch red-core VLAN control: VLAN - > control (100)',
      'set switch red-core port 9: tagged VLANs red-video (110) > control (100), red-video (110)',
    ]);
  });
});

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

  it('promises of the house are paper', () => {
    expect(words(compared(['239.192.0.0/24', '239.192.0.0/23']))).toEqual([
      'set plan house network red, video: groups 239.192.0.0-239.192.0.255 > 239.192.0.0-239.192.1.255',
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

  it('a new one is set up in full, one that goes is taken away as a whole', () => {
    const without = BASE.slice(0, BASE.indexOf('  - name: recorder'));
    expect(words(comparePlans(planOf(without), planOf(BASE)))).toEqual([
      'add recorder red: address - > 10.20.10.41/24',
      'add recorder red: cable - > red-core/2',
      'add recorder track-31: takes - > 239.192.0.31',
      'add recorder: device - > recorder',
      'set recorder red: gateway - > 10.20.10.254',
    ]);
    expect(words(comparePlans(planOf(BASE), planOf(without)))).toEqual(['remove recorder: device recorder > -']);
  });

  it('single rigs are one rig under two names', () => {
    expect(words(comparePlans(planOf(BASE), planOf(BASE.replace('rig: Heron', 'rig: Osprey'))))).toEqual([
      'rename plan rig: name Heron > Osprey',
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
joins: [{vlans: ['Heron:red-video', 'Osprey:red-video']}]
links: [{name: tie, ends: [red-Heron/4, red-Osprey/1], vlans: ['Heron:red-video']}]
`,
    };
    const apart = [rig('Heron', 110), rig('Osprey', 110)];
    expect(words(comparePlans(loadPlan(apart).plan, loadPlan([...apart, tie]).plan))).toEqual([
      'add plan joins: join - > Heron:red-video, Osprey:red-video',
      'add switch red-Heron port 4: cable - > tie to red-Osprey/1',
      'add switch red-Osprey port 1: cable - > tie to red-Heron/4',
      'set switch red-Heron port 4: access VLAN red-video (110) > -',
      'set switch red-Heron port 4: tagged VLANs - > red-video (110)',
      'set switch red-Osprey port 1: access VLAN red-video (110) > -',
      'set switch red-Osprey port 1: tagged VLANs - > red-video (110)',
    ]);
    const renumbered = comparePlans(loadPlan(apart).plan, loadPlan([rig('Heron', 110), rig('Osprey', 210)]).plan);
    expect(renumbered.steps.map((one) => [one.rig, one.box.name, one.what])).toEqual([
      ['Osprey', 'red-Osprey', 'VLAN id'],
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
