/** Networks where single ports are set by hand: one way of following a stream against the other, and against what is asked anew. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { modelOf } from '../tools/network-plans.js';
import { type Model } from '../../src/model/model.js';
import { carriedBy } from '../../src/model/network/forward.js';
import { buildLoad } from '../../src/model/network/load.js';
import { DELIVERED, missingBindings } from '../../src/model/verdicts/index.js';
import { formatAddress } from '../../src/values/address.js';
import { planOf, randomRig, type RandomRig } from './random-rig.js';

interface RawSwitch {
  readonly name: string;
  readonly ports: readonly { readonly name: string }[];
}
interface RawPlan {
  readonly vlans: readonly object[];
  readonly switches: readonly RawSwitch[];
  readonly links: readonly { readonly name: string; readonly ends: readonly string[] }[];
}

function withSwitches(raw: RawPlan, vlan: object, of: (index: number, one: RawSwitch) => object): RawPlan {
  return {
    ...raw,
    vlans: raw.vlans.map((one) => ({ ...one, ...vlan })),
    switches: raw.switches.map((one, index) => ({ ...one, snoopingKey: 'source-group', ...of(index, one) })),
  };
}

/** By stream and segment: links and ports with the kind of their reason. */
function pictureOf({ network }: Model, bare = false): readonly string[] {
  return network.flows.map((flow) => {
    const { steps, ports } = carriedBy(flow);
    const said = [
      ...[...steps].map(([{ from, to }, { kind }]) => `${from}>${to} ${bare ? '' : kind}`),
      ...[...ports].map(([{ device }, { kind }]) => `${device.name} ${bare ? '' : kind}`),
    ];
    return `${flow.leg.sender.label} ${said.sort().join(', ')}`;
  });
}

function loadsOf({ plan, network }: Model): readonly string[] {
  const { links, ports } = buildLoad(plan, network, () => ({ onLink: 1, onPort: 1 }));
  return [
    ...[...links].map(([{ name }, { there, back }]) => `${name ?? ''} ${there} ${back}`),
    ...plan.interfaces.map(({ device, name, port }) => {
      const load = port === undefined ? undefined : ports.get(port);
      return `${device.name} ${name} ${load?.toHost ?? 0} ${load?.flooded ?? 0}`;
    }),
  ];
}

function deliveredIn({ plan, judge }: Model): readonly string[] {
  return plan.receiverLegs
    .filter((taker) => taker.takes !== undefined && judge(taker.takes, taker) === DELIVERED)
    .map(({ receiver, index }) => `${receiver.device.name} ${index}`);
}

describe('a stream followed switch by switch', () => {
  it('goes where the sums say, where nothing is set by hand after all', () => {
    let steps = 0;
    fc.assert(
      fc.property(
        fc.boolean().chain((routed) => randomRig({ switches: 6, links: 8, streams: 4, routed })),
        fc.record({
          snooping: fc.constantFrom(true, true, false, undefined),
          unregistered: fc.constantFrom('flood', 'drop'),
          noQuerier: fc.constantFrom('flood', 'prune'),
          querier: fc.option(fc.nat(5), { nil: undefined }),
          off: fc.option(fc.nat(5), { nil: undefined }),
        }),
        (rig, { snooping, unregistered, noQuerier, querier, off }) => {
          const raw = planOf(rig) as RawPlan;
          const queriers =
            querier === undefined ? [] : [{ on: `sw-${querier % rig.switches.length}`, address: '10.1.0.1' }];
          const vlan = { igmp: { snooping, unregistered, querier: queriers } };
          const plain = (index: number): object => ({ noQuerier, ...(index === off ? { snooping: false } : {}) });
          const one = modelOf(withSwitches(raw, vlan, plain));
          // A router port without anything behind it changes nothing but how the segment is followed.
          const other = modelOf(
            withSwitches(raw, vlan, (index, at) => ({
              ...plain(index),
              ports: [...at.ports, { name: 'spare' }],
              ...(index === 0 ? { routerPorts: [{ ports: ['spare'] }] } : {}),
            })),
          );
          // Where all is flooded for want of snooping the sums name no router port.
          const bare = snooping === false || off !== undefined;
          const said = pictureOf(other, bare);
          expect(said).toEqual(pictureOf(one, bare));
          expect(loadsOf(other)).toEqual(loadsOf(one));
          expect(deliveredIn(other)).toEqual(deliveredIn(one));
          steps += said.join().split('>').length;
        },
      ),
      { numRuns: 300 },
    );
    expect(steps).toBeGreaterThan(300);
  });
});

/** Random tables: each port is bound to each group, or not. */
const TABLES = fc.record({
  mixed: fc.boolean(),
  flood: fc.boolean(),
  bits: fc.array(fc.nat(9), { minLength: 300, maxLength: 300 }),
  querier: fc.boolean(),
});

function tabled(
  rig: RandomRig,
  { mixed, flood, bits, querier }: { mixed: boolean; flood: boolean; bits: readonly number[]; querier: boolean },
): RawPlan {
  const raw = planOf(rig) as RawPlan;
  const groups = rig.streams.flatMap((_, number) => [10, 11].map((leg) => `239.${leg}.1.${number + 1}`));
  let at = 0;
  // Mostly bound, so that streams get somewhere.
  const isBound = (): boolean => (bits[at++ % bits.length] ?? 0) > 1;
  return withSwitches(
    raw,
    {
      forwarding: mixed ? 'igmp' : 'static',
      igmp: { snooping: true, ...(querier ? { querier: [{ on: 'sw-0', address: '10.1.0.1' }] } : {}) },
    },
    (index, one) => ({
      noQuerier: 'prune',
      unregistered: flood && index === 1 ? 'flood' : 'drop',
      ...(mixed && index % 2 === 0 ? { forwarding: 'static' } : {}),
      bindings: groups.flatMap((group) => {
        const ports = one.ports.filter(isBound).map(({ name }) => name);
        return ports.length === 0 ? [] : [{ groups: [group], ports }];
      }),
    }),
  );
}

describe('groups bound to ports', () => {
  it('are delivered and loaded as they are carried', () => {
    let delivered = 0;
    let denied = 0;
    fc.assert(
      fc.property(
        fc.boolean().chain((routed) => randomRig({ switches: 5, links: 7, streams: 4, routed })),
        TABLES,
        (rig, tables) => {
          const model = modelOf(tabled(rig, tables));
          const { plan, network, judge } = model;
          const load = buildLoad(plan, network, () => ({ onLink: 1, onPort: 1 }));
          const carried = network.flows.map((flow) => carriedBy(flow));
          for (const via of plan.interfaces) {
            const said = via.port === undefined ? 0 : (load.ports.get(via.port)?.toHost ?? 0);
            expect([via.device.name, said]).toEqual([
              via.device.name,
              carried.filter(({ ports }) => ports.has(via)).length,
            ]);
          }
          for (const taker of plan.receiverLegs) {
            const { takes: leg, interface: via } = taker;
            if (leg === undefined || via === undefined) continue;
            const leaves = network.flowsOf(leg).some((flow) => carriedBy(flow).ports.get(via)?.kind === 'joined');
            expect([taker.receiver.label, judge(leg, taker) === DELIVERED]).toEqual([taker.receiver.label, leaves]);
            if (leaves) delivered++;
            else denied++;
          }
        },
      ),
      { numRuns: 500 },
    );
    expect(Math.min(delivered, denied)).toBeGreaterThan(100);
  });

  it('are delivered once what is found to lack is bound', () => {
    let mended = 0;
    fc.assert(
      fc.property(
        fc.boolean().chain((routed) => randomRig({ switches: 5, links: 7, streams: 4, routed })),
        TABLES,
        (rig, tables) => {
          const raw = tabled(rig, tables);
          const { verdicts, network } = modelOf(raw);
          const lacking = missingBindings(verdicts, network);
          const switches = raw.switches.map((one) => ({
            ...one,
            bindings: [
              ...((one as { bindings?: object[] }).bindings ?? []),
              ...lacking
                .filter((it) => it.switch.name === one.name)
                .flatMap(({ groups }) =>
                  groups.map(({ group, ports }) => ({
                    groups: [formatAddress(group)],
                    ports: ports.map(([port]) => port?.name),
                  })),
                ),
            ],
          }));
          const after = modelOf({ ...raw, switches }).verdicts.notDelivered;
          expect(after.filter(({ denial }) => denial === 'not bound')).toEqual([]);
          mended += lacking.length;
        },
      ),
      { numRuns: 300 },
    );
    expect(mended).toBeGreaterThan(50);
  });

  it('are lost with each switch and link without which, asked anew, they are not delivered', () => {
    let lost = 0;
    fc.assert(
      fc.property(randomRig({ switches: 5, links: 8, streams: 3, routed: false }), TABLES, (rig, tables) => {
        const raw = tabled(rig, { ...tables, mixed: false });
        const model = modelOf(raw);
        const before = deliveredIn(model);
        const names = [...raw.links.map(({ name }) => name), ...raw.switches.map(({ name }) => name)];
        for (const name of names) {
          const rest = raw.links.filter(
            (link) => link.name !== name && !link.ends.some((end) => end.startsWith(`${name}/`)),
          );
          // A switch without its links and hosts is as good as gone.
          const left = new Set(
            deliveredIn(modelOf({ ...raw, links: rest })).filter((taker) => !standsAt(model, taker, name)),
          );
          const said = model.failures.ranked.find(({ element }) => element.name === name);
          const hit = [...(said?.lost ?? []), ...(said?.weakened ?? [])].map(({ receiver }) => receiver.device.name);
          const gone = before.filter((taker) => !left.has(taker)).map((taker) => taker.split(' ')[0]);
          expect([name, [...new Set(hit)].sort()]).toEqual([name, [...new Set(gone)].sort()]);
          lost += gone.length;
        }
      }),
      { numRuns: 200 },
    );
    expect(lost).toBeGreaterThan(100);
  });
});

/** Whether a receiver leg, or who sends it, is patched to a switch. */
function standsAt({ plan }: Model, taker: string, name: string): boolean {
  const leg = plan.receiverLegs.find(({ receiver, index }) => `${receiver.device.name} ${index}` === taker);
  return [leg?.interface, leg?.takes?.interface].some((via) => via?.port?.switch.name === name);
}
