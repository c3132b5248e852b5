/** Loads say "at least" where a stream of unknown rate passes, and nowhere else; no rate, no "Clean". */
import { describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.js';
import { traceStream } from '../../src/answers/trace.js';
import { findingText } from '../../src/lint/finding.js';
import { lintInputs } from '../../src/lint/lint.js';
import { leavesOpen } from '../../src/lint/unjudged.js';
import { createModel } from '../../src/model/model.js';
import { loadPlan } from '../../src/plan/load.js';
import { lintPage } from '../../src/report/lint/page.js';
import { traceJson } from '../../src/report/trace/json.js';
import { reportTraceText } from '../../src/reporters/trace.js';
import { textsOf } from '../tools/page-parts.js';

interface Change {
  /** Of the link between the switches. */
  readonly link?: object;
  /** Of the ports at its ends. */
  readonly ends?: object;
  /** Of every host port. */
  readonly hosts?: object;
  /** Of the interface of every host. */
  readonly via?: object;
  /** Of the format of the second camera. */
  readonly second?: object;
  readonly more?: readonly object[];
}

const FORMAT = { coding: 'st2110-20', width: 1920, height: 1080, frameRate: 50, sampling: 'YCbCr-4:2:2', depth: 10 };

function camera(number: number, change: Change): object {
  return {
    name: `cam-${number}`,
    interfaces: [
      { name: 'red', vlan: 'video', address: `10.20.10.${number}/24`, port: `leaf/${number}`, ...change.via },
    ],
    senders: [
      {
        name: 'video',
        format: number === 2 ? 'second' : 'picture',
        legs: [{ interface: 'red', group: `239.192.10.${number}`, port: 5004, payloadType: 96, ttl: 64 }],
      },
    ],
  };
}

function monitor(number: number, takes: string, change: Change): object {
  return {
    name: `mon-${number}`,
    interfaces: [
      { name: 'red', vlan: 'video', address: `10.20.10.${100 + number}/24`, port: `core/${number}`, ...change.via },
    ],
    receivers: [{ name: 'in', takes }],
  };
}

/** Cameras at one switch, monitors at the next, a second way for control alone. */
function rig(change: Change = {}): string {
  const ports = [
    { name: '1-8', access: 'video', ...(change.hosts ?? { rate: '25G' }) },
    { name: '9', trunk: ['video'], ...change.ends },
    { name: '10', trunk: ['control'] },
    { name: '11', trunk: ['video'] },
  ];
  return JSON.stringify({
    rig: 'Heron',
    networks: [
      { name: 'red', role: 'media', leg: 1 },
      { name: 'office', role: 'control' },
    ],
    vlans: [
      {
        name: 'video',
        id: 210,
        network: 'red',
        subnet: '10.20.10.0/24',
        igmp: { snooping: true, version: 3, unregistered: 'drop', querier: [{ on: 'core', address: '10.20.10.200' }] },
      },
      { name: 'control', id: 300, network: 'office' },
    ],
    switches: ['core', 'leaf'].map((name) => ({ name, ports })),
    links: [
      { name: 'T1', ends: ['core/9', 'leaf/9'], ...(change.link ?? { rate: '10G' }) },
      { name: 'T2', ends: ['core/10', 'leaf/10'] },
      ...(change.more ?? []),
    ],
    formats: [
      { name: 'picture', ...FORMAT },
      { name: 'second', ...(change.second ?? FORMAT) },
    ],
    devices: [
      camera(1, change),
      camera(2, change),
      monitor(1, 'cam-1/video', change),
      monitor(2, 'cam-2/video', change),
    ],
  });
}

function lintRig(change: Change = {}) {
  return lintInputs([{ name: 'plan.json', text: rig(change) }], RULES, { today: '2026-06-01' });
}

function namesWithout(change: Change): readonly string[] {
  const { rateless } = lintRig(change);
  return [
    ...rateless.links.map(({ name }) => name ?? ''),
    ...rateless.ports.map((port) => `${port.switch.name}/${port.name}`),
  ];
}

describe('a link or host port without a rate', () => {
  it('is no matter where every one that carries streams has one', () => {
    expect(namesWithout({})).toEqual([]);
    expect(namesWithout({ link: {}, ends: { rate: '25G' } })).toEqual([]);
    expect(namesWithout({ hosts: {}, via: { rate: '10G' } })).toEqual([]);
  });

  it('is named where it carries streams, and keeps a plan from being judged whole', () => {
    const bare = { link: {} };
    expect(namesWithout(bare)).toEqual(['T1']);
    expect(namesWithout({ hosts: {} })).toEqual(['leaf/1', 'leaf/2', 'core/1', 'core/2']);
    const result = lintRig(bare);
    expect(leavesOpen(result)).toBe(true);
    const rest = { ...result, findings: [], notJudged: [] };
    expect(textsOf(lintPage(rest), 'Verdict')[0]).toBe('Nothing found; no rate known for 1 link that carries streams.');
    expect(leavesOpen(rest)).toBe(true);
    expect(leavesOpen({ ...rest, rateless: { links: [], ports: [] } })).toBe(false);
    expect(textsOf(lintPage(result), 'No rate')).toEqual(['1 link (T1): give each a `rate`, or the ports at its ends']);
  });

  it('counts while it waits for the failure of another, and where only streams of unknown rate pass', () => {
    const beside = [{ name: 'T3', ends: ['core/11', 'leaf/11'] }];
    expect(namesWithout({ more: beside })).toContain('T3');
    const unknown = { coding: 'st2110-20' };
    const onlyUnknown = loadPlan([{ name: 'plan.json', text: rig({ hosts: {}, second: unknown }) }]).plan;
    expect(createModel(onlyUnknown).rateless.ports.map((port) => `${port.switch.name}/${port.name}`)).toEqual([
      'leaf/1',
      'leaf/2',
      'core/1',
      'core/2',
    ]);
  });

  it('costs nothing where all have one', () => {
    const model = createModel(loadPlan([{ name: 'plan.json', text: rig() }]).plan);
    for (const part of ['load', 'network'] as const)
      Object.defineProperty(model, part, {
        get: () => {
          throw new Error('asked');
        },
      });
    expect(model.rateless).toEqual({ links: [], ports: [] });
  });
});

describe('a load that streams of unknown rate add to', () => {
  const unknown: Change = { second: { coding: 'st2110-20' } };

  it('is at least what is said, on the links and ports they pass and no others', () => {
    const loaded = loadPlan([{ name: 'plan.json', text: rig(unknown) }]);
    const way = traceStream(loaded, 'cam-1/video');
    if ('unknown' in way) throw new Error('no such stream');
    const text = reportTraceText(way, { version: '0', width: 120, colour: false });
    expect(text).toContain('in at leaf/1 from cam-1 red: 2.22 of 25 Gbit/s');
    expect(text).toContain('link T1 into switch core (queries): at least 2.23 of 10 Gbit/s');
    expect(text).toContain('out core/1 to mon-1 red: 2.22 of 25 Gbit/s');
    const said = JSON.stringify(traceJson(way, '0'));
    expect([...said.matchAll(/"atLeast":(true|false)/g)].map(([, value]) => value)).toEqual(['false', 'true', 'false']);
  });

  it('says so in findings, and not where no such stream passes', () => {
    const what = (change: Change): string => {
      const found = lintRig(change).findings.find(({ rule }) => rule === 'capacity/link-overload');
      if (found === undefined) throw new Error('nothing found');
      return findingText(found).what;
    };
    expect(what({ ...unknown, link: { rate: '1G' } })).toMatch(/^link T1 carries at least 2\.23 Gbit\/s from leaf/);
    expect(what({ link: { rate: '1G' } })).toMatch(/^link T1 carries 4\.46 Gbit\/s from leaf/);
  });
});
