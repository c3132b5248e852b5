/**
 * `npm run bench:network`: the network model on looped networks. Prints what building flows, loads and failures takes,
 * how that grows, and what trying every failure one by one would take beside it.
 */
import { performance } from 'node:perf_hooks';
import { createModel } from '../../src/model/model.js';
import { buildTree } from '../../src/model/network/tree.js';
import { wayOf } from '../../src/model/network/way.js';
import { resolvePlan } from '../../src/plan/resolve/index.js';
import type { Plan } from '../../src/plan/types.js';
import { readDocument } from '../../src/read/index.js';

/** A connected network of one media VLAN: a random tree and more random links; every stream has one receiver. */
export function generateNetwork(switches: number, links: number, streams: number): object {
  let state = 12345;
  const random = (below: number): number => {
    state = (Math.imul(state, 1103515245) + 12345) & 0x7fffffff; // seeded, so that every run is the same network
    return state % below;
  };
  const pairs: (readonly [number, number])[] = [];
  for (let index = 1; index < switches; index++) pairs.push([random(index), index]);
  while (pairs.length < links) {
    const a = random(switches);
    const b = random(switches);
    if (a !== b) pairs.push([a, b]);
  }
  const hosts: number[] = Array.from({ length: streams * 2 }, () => random(switches));
  const ports: object[][] = Array.from({ length: switches }, () => []);
  pairs.forEach(([a, b], index) => {
    ports[a]?.push({ name: `t${index}`, trunk: ['red'], rate: '100G' });
    ports[b]?.push({ name: `t${index}`, trunk: ['red'], rate: '100G' });
  });
  hosts.forEach((at, index) => ports[at]?.push({ name: `h${index}`, access: 'red', rate: '10G' }));
  const port = (index: number): string => `sw-${hosts[index] ?? 0}/h${index}`;
  return {
    rig: 'Bench',
    vlans: [
      { name: 'red', id: 10, igmp: { snooping: true, version: 3, querier: [{ on: 'sw-0' }], unregistered: 'drop' } },
    ],
    switches: ports.map((own, index) => ({
      name: `sw-${index}`,
      ports: own,
      snoopingKey: 'group',
      power: [`feed-${index % 20}`],
    })),
    links: pairs.map(([a, b], index) => ({
      name: `l${index}`,
      ends: [`sw-${a}/t${index}`, `sw-${b}/t${index}`],
      rate: '100G',
      risks: index % 10 === 0 ? [`duct-${index % 40}`] : [],
    })),
    formats: [
      { name: 'stereo', coding: 'st2110-30', channels: 2, sampleRate: 48000, sampleBits: 24, packetTime: '1 ms' },
    ],
    devices: Array.from({ length: streams }, (_, index) => [
      {
        name: `tx-${index}`,
        interfaces: [{ name: 'red', vlan: 'red', port: port(2 * index) }],
        senders: [
          {
            name: 'sound',
            format: 'stereo',
            legs: [
              {
                interface: 'red',
                group: `239.${16 + (index >>> 16)}.${(index >>> 8) & 255}.${index & 255}`,
                port: 5004,
              },
            ],
          },
        ],
      },
      {
        name: `rx-${index}`,
        interfaces: [{ name: 'red', vlan: 'red', port: port(2 * index + 1) }],
        receivers: [{ name: 'in', takes: `tx-${index}/sound` }],
      },
    ]).flat(),
  };
}

function planOf(raw: object): Plan {
  const read = readDocument({ name: 'bench.json', text: JSON.stringify(raw) });
  if (read.document === undefined) throw new Error(JSON.stringify(read.problems));
  return resolvePlan([read.document]).plan;
}

/** Milliseconds of each part, and what came out. */
function measure(plan: Plan): {
  readonly flowsMs: number;
  readonly loadMs: number;
  readonly failuresMs: number;
  readonly outcome: string;
} {
  const model = createModel(plan);
  // Built before the clock starts: the rules of who hears whom need it anyway.
  const heard = plan.receiverLegs.filter((leg) => model.reception.heard(leg).length > 0).length;
  collect();
  const start = performance.now();
  const flows = model.network.flows.length;
  const afterFlows = performance.now();
  const busiest = Math.max(...[...model.load.links.values()].map(({ there, back }) => Math.max(there, back)));
  const afterLoad = performance.now();
  const { ranked, receptions } = model.failures;
  const end = performance.now();
  const lost = ranked.reduce((sum, { lost: own }) => sum + own.length, 0);
  return {
    flowsMs: afterFlows - start,
    loadMs: afterLoad - afterFlows,
    failuresMs: end - afterLoad,
    outcome: `${flows} flows, ${heard} heard, busiest link ${(busiest / 1e9).toFixed(1)} Gbit/s, ${receptions.length} receptions, ${ranked.length} failures that take ${lost}`,
  };
}

/** Takes away what reading left behind, which would otherwise count for whichever part comes when memory runs short. */
function collect(): void {
  if (globalThis.gc === undefined) throw new Error('run me with node --expose-gc, as npm run bench:network does');
  globalThis.gc();
}

/** The slow way: every switch and link out in turn, every stream looked at again. */
function bruteMs(plan: Plan): number {
  const { network } = createModel(plan);
  const ways = plan.receiverLegs.flatMap((receiverLeg) =>
    receiverLeg.takes === undefined ? [] : (wayOf({ leg: receiverLeg.takes, receiverLeg }, network) ?? []),
  );
  const start = performance.now();
  let broken = 0;
  for (const { segment } of network.forwardings) {
    const trials = [
      ...segment.nodes.map((_, node) => ({ nodes: new Set([node]) })),
      ...segment.edges.map((edge) => ({ edges: new Set([edge]) })),
    ];
    for (const removed of trials) {
      const { component } = buildTree(segment, [], removed);
      for (const {
        stages: [stage],
      } of ways)
        if (component[stage.from] === -1 || component[stage.from] !== component[stage.to]) broken++;
    }
  }
  if (broken === 0) throw new Error('nothing broke: the bench measures nothing');
  return performance.now() - start;
}

const sizes = process.argv.slice(2).map(Number);
process.stdout.write(
  'switches  links  streams  flows ms  load ms  failures ms  growth per doubling  brute force ms  ratio  outcome\n',
);
let before: { readonly streams: number; readonly total: number } | undefined;
for (const streams of sizes.length > 0 ? sizes : [1_000, 10_000, 50_000, 100_000]) {
  const plan = planOf(generateNetwork(500, 2_000, streams));
  const { flowsMs, loadMs, failuresMs, outcome } = measure(plan);
  const total = flowsMs + loadMs + failuresMs;
  const growth =
    before === undefined
      ? ''
      : (total / before.total / (streams / before.streams)) ** (1 / Math.log2(streams / before.streams));
  before = { streams, total };
  const brute = streams <= 10_000 ? bruteMs(plan) : undefined;
  const cells = [
    500,
    2_000,
    streams,
    flowsMs.toFixed(0),
    loadMs.toFixed(0),
    failuresMs.toFixed(0),
    growth === '' ? '' : growth.toFixed(2),
    brute === undefined ? '' : brute.toFixed(0),
    brute === undefined ? '' : (brute / failuresMs).toFixed(0),
  ];
  const widths = [8, 6, 8, 9, 8, 12, 20, 15, 6];
  process.stdout.write(
    `${cells.map((cell, index) => String(cell).padStart(widths[index] ?? 8)).join(' ')}  ${outcome}\n`,
  );
}
