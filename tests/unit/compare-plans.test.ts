/**
 * What changed between two plans: each kind of change gives exactly its steps, at the boxes where the work is. Which box
 * that is is common practice, no source, but where a standard is named.
 */
import { describe, expect, it } from 'vitest';
import { comparePlans } from '../../src/compare/compare.js';
import type { Plan } from '../../src/plan/types.js';
import { BASE, planOf, compared, words } from '../tools/compared-plans.js';

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
