/** Inputs that switch between streams: a multiviewer whose 16 inputs take any camera, and the output panel of a router. */
import { describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.js';
import { comparePlans } from '../../src/compare/compare.js';
import { lintInputs } from '../../src/lint/lint.js';
import { portLabel } from '../../src/model/vlans/index.js';
import { loadPlan } from '../../src/plan/load.js';
import { textsOf } from '../tools/page-parts.js';
import { tracePage } from '../../src/report/trace/page.js';
import { rowsOf } from '../tools/crew-tables.js';
import { modelOf, traceOf } from '../tools/network-plans.js';

interface Options {
  readonly cameras?: number;
  readonly takes?: string;
  readonly more?: string;
  /** Link between the switch of the cameras and that of the multiviewer. */
  readonly rate?: string;
}

/** Cameras at a leaf; at the core a multiviewer of 16 inputs, or what `takes` says. */
function rig({ cameras = 24, takes, more = '', rate = '100G' }: Options = {}): string {
  const inputs =
    takes === undefined
      ? Array.from({ length: 16 }, (_, index) => `{name: in-${index + 1}, takes: {kinds: [camera], essence: video}}`)
      : [`{name: in-1, ${takes}}`];
  return `
rig: Heron
networks: [{name: red, role: media, leg: 1}]
vlans:
  - name: red-video
    id: 110
    network: red
    subnet: 10.20.0.0/22
    igmp: {snooping: true, version: 3, unregistered: drop, querier: [{on: core, address: 10.20.0.2}]}
switches:
  - name: core
    addresses: [{vlan: red-video, address: 10.20.0.2/22}]
    ports: [{name: 1-8, access: red-video, rate: 100G}, {name: 49, trunk: [red-video], rate: ${rate}}]
  - name: leaf
    ports: [{name: 1-40, access: red-video, rate: 10G}, {name: 49, trunk: [red-video], rate: ${rate}}]
links: [{name: R01, ends: [core/49, leaf/49], rate: ${rate}}]
formats:
  - {name: 1080p50, essence: video, coding: st2110-20, width: 1920, height: 1080, frameRate: 50, scan: progressive, sampling: 'YCbCr-4:2:2', depth: 10}
  - {name: return, essence: audio, coding: st2110-30, channels: 2, sampleRate: 48000, sampleBits: 24, packetTime: 1 ms}
kinds:
  - name: camera
    interfaces: [{name: red, vlan: red-video}]
    senders:
      - {name: video, format: 1080p50, legs: [{interface: red, port: 5004}]}
      - {name: sound, format: return, legs: [{interface: red, port: 5004}]}
devices:
${Array.from(
  { length: cameras },
  (_, index) =>
    `  - {name: cam-${index + 1}, kind: camera, area: ${index % 2 === 0 ? 'start' : 'finish'}, interfaces: [{name: red, address: 10.20.1.${index + 1}/22, port: leaf/${index + 1}}], senders: [{name: video, legs: [{group: 239.20.1.${index + 1}}]}, {name: sound, legs: [{group: 239.20.2.${index + 1}}]}]}`,
).join('\n')}
  - name: multiviewer
    interfaces: [{name: red, vlan: red-video, address: 10.20.3.1/22, port: core/1}]
    receivers:
${inputs.map((one) => `      - ${one}`).join('\n')}
${more}`;
}

function choicesOf(text: string): readonly string[] {
  const { plan, problems } = loadPlan([{ name: 'plan.yaml', text }]);
  expect(problems).toEqual([]);
  return plan.receivers.flatMap(({ takes }) => takes?.label ?? []);
}

const lint = (text: string) => lintInputs([{ name: 'plan.yaml', text }], RULES, { today: '2026-06-01' });

describe('what an input may take', () => {
  it('is a list, in its order and each once', () => {
    expect(choicesOf(rig({ takes: 'takes: [cam-3/video, cam-1/video, cam-3/video]' }))).toEqual([
      'cam-3/video',
      'cam-1/video',
    ]);
  });

  it.each([
    ['{kinds: [camera], essence: audio}', ['cam-1/sound', 'cam-2/sound', 'cam-3/sound']],
    ['{area: finish, sender: video}', ['cam-2/video']],
    ['{devices: [cam-3, cam-1], sender: video}', ['cam-1/video', 'cam-3/video']],
    ['{devices: [cam-1], kinds: [camera], essence: video, area: start}', ['cam-1/video', 'cam-3/video']],
    ['{essence: video}', ['cam-1/video', 'cam-2/video', 'cam-3/video']],
  ])('is what %s holds', (set, labels) => {
    expect(choicesOf(rig({ cameras: 3, takes: `takes: ${set}` }))).toEqual(labels);
  });

  it('is nothing of its own device, and of another rig only what is named', () => {
    const more = `  - name: mixer
    interfaces: [{name: red, vlan: red-video, address: 10.20.3.2/22, port: core/2}]
    senders: [{name: programme, format: 1080p50, legs: [{interface: red, group: 239.20.9.1}]}]
    receivers: [{name: in-1, takes: {essence: video}}]
`;
    const { plan } = loadPlan([
      { name: 'heron.yaml', text: rig({ cameras: 1, more }) },
      {
        name: 'dunlin.yaml',
        text: `
rig: Dunlin
devices:
  - {name: boat, senders: [{name: picture, essence: video, legs: [{group: 239.30.1.1}]}]}
  - {name: wall, receivers: [{name: any, takes: {essence: video}}, {name: named, takes: {devices: [cam-1, boat], essence: video}}]}
`,
      },
    ]);
    const byInput = (label: string): readonly (string | undefined)[] =>
      plan.receivers.filter((one) => one.label === label).map(({ takes }) => takes?.label);
    expect(byInput('mixer/in-1')).toEqual(['cam-1/video']);
    expect(byInput('wall/any')).toEqual(['boat/picture']);
    expect(byInput('wall/named')).toEqual(['cam-1/video', 'boat/picture']);
  });

  it('is found wanting by the place of a name that leads nowhere, once, and not as an empty set besides', () => {
    const text = rig({
      cameras: 2,
      takes: 'takes: {kinds: [camra], devices: [cam-1, cam-9]}, legs: [{interface: rde}]',
    });
    const found = lint(text).findings.filter(({ rule }) => /^plan\/unknown|chooses-nothing/.test(rule));
    expect(found.map(({ rule, subject }) => `${rule} ${subject}`).sort()).toEqual([
      'plan/unknown-reference device cam-9',
      'plan/unknown-reference device kind camra',
      'plan/unknown-reference interface rde of multiviewer',
    ]);
    const line = text.split('\n').findIndex((one) => one.includes('camra')) + 1;
    expect(found.map(({ at }) => at.line)).toEqual([line, line, line]);
    expect(found.every(({ others }) => others.length === 0)).toBe(true);
  });

  it('comes from the kind of its device as well', () => {
    const more = `  - {name: panel, kind: output, interfaces: [{name: red, address: 10.20.3.3/22, port: core/3}]}\n`;
    const text = rig({ cameras: 2, more }).replace(
      'kinds:\n',
      'kinds:\n  - {name: output, interfaces: [{name: red, vlan: red-video}], receivers: [{name: out-1, takes: {kinds: [camera], essence: video}, joinsFirst: false}]}\n',
    );
    const { plan } = loadPlan([{ name: 'plan.yaml', text }]);
    const own = plan.receivers.filter(({ device }) => device.name === 'panel');
    expect(own.map(({ takes, selection }) => `${takes?.label} ${selection?.atOnce} ${selection?.joinsFirst}`)).toEqual([
      'cam-1/video 1 false',
      'cam-2/video 1 false',
    ]);
  });
});

describe('a multiviewer with 16 inputs that take any of 24 cameras', () => {
  it('has a verdict for each choice, and is clean where all of them fit', () => {
    const result = lint(rig());
    expect(result.findings.map(({ rule, subject }) => `${rule} ${subject}`)).toEqual([]);
    expect(result.receivers?.legs).toBe(16 * 24);
    expect(result.receivers?.delivered).toBe(16 * 24);
    expect(result.counts.receivers).toBe(16);
  });

  it('carries no more than all cameras at once, each once', () => {
    // 16 inputs with one more each while they switch could take 32 of 24: 24 pictures of 2.2222 Gbit/s at the port.
    const { load, rates, plan } = modelOf(rig());
    const [first] = plan.legs;
    const rate = first === undefined ? undefined : rates.onWire(first);
    const at = [...load.ports].find(([port]) => portLabel(port) === 'core/1')?.[1];
    expect(at?.toHost).toBeCloseTo(24 * (rate?.onPort ?? 0), 0);
  });

  it('says which choices are not delivered, and by which finding', () => {
    const result = lint(rig({ cameras: 3 }).replace('239.20.1.2}', '239.20.1.1}'));
    const denied = result.receivers?.notDelivered ?? [];
    expect(new Set(denied.map(({ receiverLeg }) => receiverLeg.takes?.sender.label))).toEqual(
      new Set(['cam-1/video', 'cam-2/video']),
    );
    expect(denied).toHaveLength(2 * 16);
    expect(denied.every(({ finding }) => finding?.rule === 'groups/two-senders')).toBe(true);
    expect(result.findings.filter(({ rule }) => rule === 'groups/two-senders')).toHaveLength(1);
  });

  it('loses every choice with its switch, and a camera that cannot be had any more counts', () => {
    const { failures } = modelOf(rig({ cameras: 3 }));
    const lostWith = (name: string): number =>
      failures.ranked.find(({ element }) => element.name === name)?.lost.length ?? 0;
    expect(failures.receptions).toHaveLength(3 * 16);
    expect(lostWith('leaf')).toBe(3 * 16);
    expect(lostWith('cam-2')).toBe(16);
  });

  it('stands on crew sheets and in traces as one of so many', () => {
    const text = rig({ cameras: 2, takes: 'takes: {kinds: [camera], essence: video}' });
    const { plan } = loadPlan([{ name: 'plan.yaml', text }]);
    const row = rowsOf(plan, 'streams').find((one) => one['device'] === 'cam-1' && one['stream'] === 'video');
    expect(row?.['receivers']).toBe('multiviewer/in-1 (one of 2)');
    const trace = traceOf(modelOf(text), 'cam-1/video');
    expect(textsOf(tracePage({ traces: [trace], problems: [] }), 'Taken by')[0]).toBe(
      '1 receiver: multiviewer/in-1 (one of 2)',
    );
  });
});

describe('the output panel of a router', () => {
  it('fills a link in the worst choice, which is named, and no more where the last is left first', () => {
    // 2.23 Gbit/s each on the link: four are 8.92, five 11.15 Gbit/s. A camera taken for good is not chosen twice.
    const set = 'takes: {kinds: [camera], essence: video}, atOnce: 3';
    const more = `  - {name: preview, interfaces: [{name: red, vlan: red-video, address: 10.20.3.4/22, port: core/4}], receivers: [{name: in-1, takes: cam-1/video}]}\n`;
    const rules = (text: string): readonly string[] =>
      lint(text).findings.map(({ rule, severity, confidence }) => `${rule} ${severity} ${confidence}`);
    const unsaid = quiet(rig({ takes: set, more, rate: '10G' }));
    expect(rules(unsaid)).toEqual(['capacity/link-overload warning assumed']);
    expect(rules(unsaid.replace('atOnce: 3', 'atOnce: 3, joinsFirst: true'))).toEqual([
      'capacity/link-overload error certain',
    ]);
    // The cure of the finding.
    expect(rules(unsaid.replace('atOnce: 3', 'atOnce: 3, joinsFirst: false'))).toEqual([]);
    const [finding] = lint(unsaid).findings;
    expect(finding?.facts).toMatchObject({
      chosen: { streams: ['cam-10/video', 'cam-11/video', 'cam-12/video', 'cam-13/video'], exact: true },
    });
  });
});

/** With the querier at the leaf: nothing but what is taken crosses the link. */
function quiet(text: string): string {
  return text
    .replace('querier: [{on: core, address: 10.20.0.2}]', 'querier: [{on: leaf, address: 10.20.0.3}]')
    .replace('  - name: leaf\n', '  - name: leaf\n    addresses: [{vlan: red-video, address: 10.20.0.3/22}]\n');
}

describe('two plans', () => {
  const steps = (before: string, after: string): readonly string[] => {
    const of = (text: string) => loadPlan([{ name: 'plan.yaml', text }]).plan;
    return comparePlans(of(before), of(after)).steps.map(
      ({ box, at, action, what, old, new: now }) =>
        `${box.name} ${at ?? ''} ${action} ${what} ${old ?? ''} > ${now ?? ''}`,
    );
  };

  it('differ by what an input may take', () => {
    expect(
      steps(
        rig({ cameras: 2, takes: 'takes: [cam-1/video]' }),
        rig({ cameras: 2, takes: 'takes: [cam-1/video, cam-2/video], joinsFirst: true' }),
      ),
    ).toEqual([
      'multiviewer in-1 set takes one of 1 (cam-1/video) > one of 2 (cam-1/video and cam-2/video), the next joined first',
    ]);
  });

  it('differ by the numbers of a stream that it may take, once an input', () => {
    const before = rig({ cameras: 2, takes: 'takes: {kinds: [camera], essence: video}' });
    expect(steps(before, before.replace('239.20.1.2}', '239.20.1.99}'))).toEqual([
      'cam-2 video, leg 1 set group 239.20.1.2 > 239.20.1.99',
      'multiviewer in-1, leg 1 patch group 239.20.1.2 > 239.20.1.99',
    ]);
    expect(steps(before, before)).toEqual([]);
  });
});
