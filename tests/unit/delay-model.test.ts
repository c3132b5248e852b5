/** What a reception waits: parts, what is missing, chains. Numbers are worked out by hand beside each check. */
import { describe, expect, it } from 'vitest';
import type { Budget } from '../../src/model/delay/budget.js';
import { parseReferenceClock } from '../../src/model/delay/reference-clock.js';
import { loadPlan } from '../../src/plan/load.js';
import { createModel, type Model } from '../../src/model/model.js';
import { modelOf } from '../tools/network-plans.js';

interface Choice {
  readonly sound?: string;
  readonly timing?: string;
  readonly link?: string;
  readonly input?: string;
  readonly port?: string;
}

/** One box at the start, one desk in the truck; both are told what they take. */
function rig({
  sound = 'packetTime: 1 ms',
  timing = 'linkOffset: 3 ms',
  link = 'length: 2 km',
  input = '',
  port = ', port: red-core/1',
}: Choice = {}): string {
  return `
rig: Heron
formats: [{name: sound, coding: st2110-30, channels: 2, sampleRate: 48000, sampleBits: 24${sound === '' ? '' : `, ${sound}`}}]
vlans: [{name: red, id: 220}]
switches:
  - {name: red-start, ports: [{name: 1-4, access: red}, {name: 49, trunk: [red]}]}
  - {name: red-core, ports: [{name: 1-4, access: red}, {name: 49, trunk: [red]}]}
links: [{name: R1, ends: [red-start/49, red-core/49]${link === '' ? '' : `, ${link}`}}]
timing: {${timing}}
devices:
  - name: stage
    delay: 0.5 ms
    interfaces: [{name: red, vlan: red, port: red-start/1}]
    senders: [{name: mics, format: sound, legs: [{interface: red, group: 239.192.120.1}]}]
  - name: desk
    delay: 2 ms
    interfaces: [{name: red, vlan: red${port}}]
    receivers: [{name: in, takes: stage/mics${input}}]
`;
}

function budget(model: Model): Budget {
  const [only] = model.delays.budgets;
  if (only === undefined) throw new Error('no reception');
  return only;
}

const parts = ({ items }: Budget): readonly string[] => items.map(({ part, ns, from }) => `${part} ${ns} ${from}`);
const lacks = ({ gaps }: Budget): readonly string[] => gaps.map((gap) => `${gap.lacks}: ${gap.names.join(' ')}`);

describe('a reception', () => {
  it('is added up to the link offset, which has packets and way in it', () => {
    const one = budget(modelOf(rig()));
    // 2 km at 5 µs a kilometre is 10 µs; 3 ms - 1 ms - 10 µs is left to wait.
    expect(parts(one)).toEqual([
      'sender 500000 device delay',
      'packets 1000000 packet time',
      'way 10000 links',
      'buffer 1990000 link offset',
      'device 2000000 device delay',
    ]);
    expect(one.totalNs).toBe(500_000 + 3_000_000 + 2_000_000);
    expect(one.gaps).toEqual([]);
  });

  it('waits for a buffer of its own after packets have come', () => {
    const one = budget(modelOf(rig({ input: ', delay: 5 ms' })));
    expect(one.totalNs).toBe(500_000 + 1_000_000 + 10_000 + 5_000_000 + 2_000_000);
  });

  it('takes a circuit by its stated delay, whatever its length', () => {
    expect(parts(budget(modelOf(rig({ link: 'length: 400 km, delay: 18 ms', input: ', delay: 5 ms' }))))).toContain(
      'way 18000000 links',
    );
  });

  it('has the link offset at least, though the way or the packet is not known', () => {
    for (const plan of [rig({ link: '' }), rig({ port: '' }), rig({ sound: '' })]) {
      const one = budget(modelOf(plan));
      expect(one.gaps).toEqual([]);
      expect(one.totalNs).toBe(5_500_000);
    }
  });

  it('lists what is not known where a buffer comes after it', () => {
    expect(lacks(budget(modelOf(rig({ link: '', input: ', delay: 5 ms' }))))).toEqual(['length: R1']);
    expect(lacks(budget(modelOf(rig({ port: '', input: ', delay: 5 ms' }))))).toEqual(['place: desk/in']);
    expect(
      lacks(budget(modelOf(rig({ timing: 'mediaClock: direct=0' }).replace('delay: 2 ms', 'area: truck')))),
    ).toEqual(['buffer: desk/in', 'device delay: desk']);
  });

  it("takes the stream's delay before its device's", () => {
    const plan = rig().replace('{name: mics,', '{name: mics, delay: 7 ms,');
    expect(parts(budget(modelOf(plan)))[0]).toBe('sender 7000000 stream delay');
  });

  it('inherits delays from its kind', () => {
    const plan = rig()
      .replace('devices:', 'kinds: [{name: box, delay: 0.5 ms, senders: [{name: mics, delay: 6 ms}]}]\ndevices:')
      .replace('    delay: 0.5 ms', '    kind: box');
    expect(parts(budget(modelOf(plan)))[0]).toBe('sender 6000000 stream delay');
  });

  it('assumes 1 ms packets where none is stated and a buffer follows', () => {
    expect(parts(budget(modelOf(rig({ sound: '', input: ', delay: 5 ms' }))))).toContain(
      'packets 1000000 usual packet time',
    );
  });
});

describe('lip sync', () => {
  const plan = (extra: string): string => `
rig: Heron
vlans: [{name: red, id: 220}]
switches: [{name: red-core, ports: [{name: 1-9, access: red}]}]
timing: {linkOffset: 3 ms, lipSync: [{name: start, at: encoder, picture: [cam/video], sound: [box/sound]}]}
devices:
  - name: cam
    ${extra}
    interfaces: [{name: red, vlan: red, port: red-core/1}]
    senders: [{name: video, essence: video, legs: [{interface: red, group: 239.192.10.1}]}]
  - name: box
    delay: 1 ms
    interfaces: [{name: red, vlan: red, port: red-core/2}]
    senders: [{name: sound, essence: audio, legs: [{interface: red, group: 239.192.20.1, packetTime: 1 ms}]}]
  - name: encoder
    interfaces: [{name: red, vlan: red, port: red-core/3}]
    receivers: [{name: picture, takes: cam/video, delay: 4 ms}, {name: sound, takes: box/sound}]
`;

  it.each([
    // Sound takes 1 + 3 ms, the picture 4 ms and what its camera takes; the encoder is the end of both.
    ['delay: 0.1 ms', 'inside', 100_000],
    ['delay: 40 ms', 'inside', 40_000_000],
    ['delay: 40.1 ms', 'outside-r37', 40_100_000],
    ['delay: 90 ms', 'outside-r37', 90_000_000],
    ['delay: 90.1 ms', 'outside-bt1359', 90_100_000],
    ['area: start', 'open', 0],
  ])('%s is %s', (extra, verdict, leadNs) => {
    expect(modelOf(plan(extra)).delays.lipSyncs).toMatchObject([{ verdict, leadNs }]);
  });

  it('does not count what both lack alike', () => {
    const [one] = modelOf(plan('delay: 1 ms')).delays.lipSyncs;
    expect(one?.picture.gaps.map((gap) => gap.lacks)).toEqual(['device delay']);
    expect([one?.pictureGaps, one?.soundGaps]).toEqual([[], []]);
  });

  it('says where the device meant does not take the stream', () => {
    const [one] = modelOf(plan('delay: 1 ms').replace(', {name: sound, takes: box/sound}', '')).delays.lipSyncs;
    expect(one?.sound.gaps.map((gap) => gap.lacks)).toContain('reception');
    expect(one?.verdict).toBe('open');
  });

  it('with a name that leads nowhere is left to the rule on names', () => {
    const { plan: resolved } = loadPlan([
      { name: 'plan.yaml', text: plan('delay: 1 ms').replace('[cam/video]', '[cam/vidoe]') },
    ]);
    expect(resolved.unresolved.map((one) => one.text)).toEqual(['vidoe']);
    expect(createModel(resolved).delays.lipSyncs).toEqual([]);
  });
});

describe('reference clocks', () => {
  it.each([
    [
      'ptp=IEEE1588-2008:39-A7-94-FF-FE-07-CB-D0:127',
      'ptp=IEEE1588-2008:39-a7-94-ff-fe-07-cb-d0:domain-nmbr=127',
      true,
    ],
    ['ptp=IEEE1588-2008:39-A7-94-FF-FE-07-CB-D0:127', 'ptp=IEEE1588-2008:39-A7-94-FF-FE-07-CB-D0:0', false],
    ['ptp=IEEE1588-2008:39-A7-94-FF-FE-07-CB-D0:127', 'ptp=IEEE1588-2008:39-A7-94-FF-FE-07-CB-D1:127', false],
    ['localmac=7C-E9-D3-1B-9A-AF', 'localmac=7c-e9-d3-1b-9a-af', true],
  ])('%s and %s', (a, b, same) => {
    expect(parseReferenceClock(a).key === parseReferenceClock(b).key).toBe(same);
  });
});
