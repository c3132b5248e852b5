/** Traces of receivers that are not reached, against brute force, and how they are laid out. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { loadPlan } from '../../src/plan/load.js';
import { escapeText } from '../../src/page/escape.js';
import { measure } from '../../src/draw/width.js';
import { reportTraceJson, reportTraceText } from '../../src/reporters/trace.js';
import { reaches, type Gone } from '../network/brute-force.js';
import { planOf, randomRig, type RandomRig } from '../network/random-rig.js';
import { hostileModel, modelOf, DUNLIN_SMALL, traceOf } from '../tools/network-plans.js';
import { HOSTILE_TEXTS } from '../tools/report-samples.js';
import { NAMES, PLAIN, validate, text } from '../tools/trace-texts.js';

describe('receivers not reached', () => {
  it('each says why', () => {
    const [leg] = traceOf(modelOf(DUNLIN_SMALL), 'cam-31/video').legs;
    expect(leg?.unreached.map(({ receiver, why }) => [receiver.label, why.kind])).toEqual([
      ['guest/cam-31', 'not routed'],
      ['spare/cam-31', 'place unknown'],
      ['jib/wrong-group', 'other group'],
      ['jib/wrong-source', 'other source'],
    ]);
  });

  it('RFC 1112 §2: a router does not forward a datagram with TTL 1', () => {
    const [leg] = traceOf(modelOf(DUNLIN_SMALL), 'cam-31/clean').legs;
    expect(leg?.unreached.map(({ receiver, why }) => [receiver.label, why])).toEqual([
      ['monitor/clean-31', { kind: 'time to live', ttl: 1, routers: 1 }],
    ]);
    expect(leg?.stages.length).toBe(1);
  });

  it('routed VLANs without a named router, and a VLAN in two parts', () => {
    const plan = (routing: string): string => `
networks: [{name: red}]
vlans: [{name: red, network: red, routing: ${routing}}, {name: preview, network: red, routing: ${routing}}]
switches:
  - {name: a, ports: [{name: 1-4, access: red}, {name: 5-6, access: preview}, {name: t, trunk: [preview]}]}
  - {name: b, ports: [{name: 1-4, access: red}, {name: t, trunk: [preview]}]}
links: [{ends: [a/t, b/t]}]
devices:
  - {name: cam, interfaces: [{name: red, vlan: red, port: a/1}], senders: [{name: v, legs: [{interface: red, group: 239.10.1.1}]}]}
  - {name: far, interfaces: [{name: red, vlan: red, port: b/1}], receivers: [{name: in, takes: cam/v}]}
  - {name: mon, interfaces: [{name: preview, vlan: preview, port: a/5}], receivers: [{name: in, takes: cam/v}]}
`;
    const kinds = (routing: string): readonly string[] =>
      traceOf(modelOf(plan(routing)), 'cam/v').legs.flatMap(({ unreached }) => unreached.map(({ why }) => why.kind));
    expect(kinds('{mode: pim-ssm}')).toEqual(['no link', 'no named router']);
    expect(kinds('{mode: none}')).toEqual(['no link', 'not routed']);
    expect(kinds('{mode: pim-ssm, routers: [a]}')).toEqual(['no link', 'no rendezvous point']);
    expect(kinds('{mode: pim-sm, routers: [a], rp: [{address: 10.0.0.1}]}')).toEqual(['no link']);
  });

  it('a sender whose place is not known reaches nobody that is known of', () => {
    const plan =
      'devices:\n  - {name: cam, senders: [{name: v, legs: [{group: 239.10.1.1}]}]}\n  - {name: mon, receivers: [{name: in, takes: cam/v}]}\n';
    const [leg] = traceOf(modelOf(plan), 'cam/v').legs;
    expect([leg?.unknown, leg?.stages, leg?.unreached.map(({ why }) => why)]).toEqual([
      'interface',
      [],
      [{ kind: 'leg not taken' }],
    ]);
    expect(text(plan, 'cam/v')).toContain("not known, as the sender's interface is not");
  });
});

describe('against brute force on random rigs', () => {
  const nothing: Gone = { switches: new Set(), links: new Set() };

  it.each([
    ['without routing', false],
    ['with routing', true],
  ] as const)('%s: who is reached, and what takes each leg', (_, routed) => {
    fc.assert(
      fc.property(randomRig({ switches: 6, links: 8, streams: 3, routed }), (rig) => {
        const model = modelOf(planOf(rig));
        rig.streams.forEach((stream, number) => {
          const trace = traceOf(model, `cam-${number}/video`);
          trace.legs.forEach((leg, index) => {
            const reached = leg.stages.flatMap((one) => one.reached.map((at) => at.receiver.device.name)).sort();
            expect(reached).toEqual(receivers(rig, number, index, nothing));
            for (let node = 0; node < rig.switches.length; node++) {
              const gone = { ...nothing, switches: new Set([node]) };
              expect(takenBy(leg.losses, 'switch', `sw-${node}`), `sw-${node}`).toEqual(
                reached.filter((name) => !receivers(rig, number, index, gone).includes(name)),
              );
            }
            rig.links.forEach((__, link) => {
              const gone = { ...nothing, links: new Set([link]) };
              expect(takenBy(leg.losses, 'link', `link-${link}`)).toEqual(
                reached.filter((name) => !receivers(rig, number, index, gone).includes(name)),
              );
            });
          });
          expect(stream.legs).toBe(trace.legs.length);
        });
      }),
      { numRuns: 150 },
    );
  });

  function receivers(rig: RandomRig, number: number, leg: number, gone: Gone): readonly string[] {
    const stream = rig.streams[number];
    const from = rig.vlans[leg] ?? '';
    const to = leg === 0 ? (rig.vlans[stream?.receiverVlan ?? 0] ?? from) : from;
    return (stream?.receivers ?? [])
      .flatMap((at, index) =>
        reaches(rig, gone, stream?.at[leg] ?? 0, from, at[leg] ?? 0, to) ? [`monitor-${number}-${index}`] : [],
      )
      .sort();
  }

  function takenBy(losses: ReturnType<typeof traceOf>['losses'], kind: string, name: string): readonly string[] {
    return losses
      .filter(({ elements }) => elements.some((one) => one.kind === kind && one.name === name))
      .flatMap((loss) => loss.receivers.map((receiver) => receiver.device.name))
      .sort();
  }
});

describe('layout', () => {
  it('keeps to any width from 40 to 200 but for single words that are wider', () => {
    for (let width = 40; width <= 200; width += 7) {
      for (const line of text(DUNLIN_SMALL, 'cam-31/video', width).split('\n'))
        expect(measure(line), line).toBeLessThanOrEqual(width);
    }
  });

  it('a chain of switches stays inside the width', () => {
    const count = 60;
    const names = Array.from({ length: count }, (_, index) => `s${index}`);
    const plan = {
      vlans: [{ name: 'red' }],
      switches: names.map((name) => ({
        name,
        ports: [
          { name: '1-2', access: 'red' },
          { name: 'u', trunk: ['red'] },
          { name: 'd', trunk: ['red'] },
        ],
      })),
      links: names.slice(1).map((name, index) => ({ name: `L${index + 1}`, ends: [`s${index}/d`, `${name}/u`] })),
      devices: [
        {
          name: 'cam',
          interfaces: [{ name: 'red', vlan: 'red', port: 's0/1' }],
          senders: [{ name: 'v', legs: [{ interface: 'red', group: '239.10.1.1' }] }],
        },
        {
          name: 'mon',
          interfaces: [{ name: 'red', vlan: 'red', port: `s${count - 1}/1` }],
          receivers: [{ name: 'in', takes: 'cam/v' }],
        },
      ],
    };
    const shown = text(JSON.stringify(plan), 'cam/v', 60);
    expect(Math.max(...shown.split('\n').map(measure))).toBeLessThanOrEqual(60);
    expect(shown).toContain(`hop ${count - 1} link L${count - 1} into switch s${count - 1}`);
  });

  it('colour repeats what words say', () => {
    const traces = [traceOf(modelOf(DUNLIN_SMALL), 'cam-31/video')];
    const coloured = reportTraceText({ traces, problems: [] }, { ...PLAIN, colour: true });
    expect(coloured).toMatch(/\u001b\[/);
    expect(coloured.replace(/\u001b\[\d+m/g, '')).toBe(reportTraceText({ traces, problems: [] }, PLAIN));
  });

  it('no name reaches the terminal raw, nor starts a line of its own', () => {
    for (const hostile of HOSTILE_TEXTS) {
      const name = (word: string): string => `${word}${hostile.replaceAll('/', ' ')}`;
      const model = hostileModel(DUNLIN_SMALL, NAMES, name);
      const shown = reportTraceText(
        { traces: [traceOf(model, `${name('cam-31')}/${name('video')}`)], problems: [] },
        PLAIN,
      );
      expect(shown).toContain(escapeText(name('vision')));
      expect(shown.replaceAll('\n', '')).not.toMatch(/[\p{Cc}\p{Cf}\p{Zl}\p{Zp}\p{Cs}]/u);
      for (const line of shown.split('\n')) expect(line).not.toMatch(/^ERROR forged/);
    }
  });
});

describe('JSON', () => {
  it('keeps to its schema', () => {
    const model = modelOf(DUNLIN_SMALL);
    for (const sender of model.plan.senders) {
      validate(JSON.parse(reportTraceJson({ traces: [traceOf(model, sender.label)], problems: [] }, PLAIN)));
      expect(validate.errors).toBeNull();
    }
    const { problems } = loadPlan([{ name: 'plan.yaml', text: 'devices: 3\n' }]);
    validate(JSON.parse(reportTraceJson({ traces: [], problems }, PLAIN)));
    expect(validate.errors).toBeNull();
    expect(validate({ format: 1 })).toBe(false);
  });
});
