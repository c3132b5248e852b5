/** Failures the slow way: take the element out, look what still reaches what. Shares no code with the model. */
import type { RandomRig } from './random-rig.js';
import { byMessages } from './tree-by-messages.js';

export interface BruteFailure {
  readonly lost: readonly string[];
  readonly weakened: readonly string[];
}

/** What is out of order. */
export interface Gone {
  readonly switches: ReadonlySet<number>;
  readonly links: ReadonlySet<number>;
}

/** By `switch sw-0`, `link link-3`, `risk duct`, `power feed feed-a`; only what takes something. */
export function bruteFailures(rig: RandomRig): ReadonlyMap<string, BruteFailure> {
  const nothing: Gone = { switches: new Set(), links: new Set() };
  const trials = new Map<string, Gone>();
  rig.switches.forEach((_, index) => trials.set(`switch sw-${index}`, { ...nothing, switches: new Set([index]) }));
  rig.links.forEach((_, index) => trials.set(`link link-${index}`, { ...nothing, links: new Set([index]) }));
  for (const risk of ['duct', 'multicore']) {
    trials.set(`risk ${risk}`, {
      ...nothing,
      links: new Set(rig.links.flatMap((link, index) => (link.risks.includes(risk) ? [index] : []))),
    });
  }
  for (const feed of ['feed-a', 'feed-b']) {
    trials.set(`power feed ${feed}`, {
      ...nothing,
      switches: new Set(
        rig.switches.flatMap((one, index) => (one.power.length === 1 && one.power[0] === feed ? [index] : [])),
      ),
    });
  }
  const found = new Map<string, BruteFailure>();
  for (const [name, gone] of trials) {
    const lost: string[] = [];
    const weakened: string[] = [];
    rig.streams.forEach((stream, number) => {
      stream.receivers.forEach((at, index) => {
        const vlans = rig.vlans
          .slice(0, stream.legs)
          .map((vlan, leg) => [vlan, leg === 0 ? (rig.vlans[stream.receiverVlan] ?? vlan) : vlan] as const);
        const before = vlans.map(([from, to], leg) =>
          reaches(rig, nothing, stream.at[leg] ?? 0, from, at[leg] ?? 0, to),
        );
        const after = vlans.map(([from, to], leg) => reaches(rig, gone, stream.at[leg] ?? 0, from, at[leg] ?? 0, to));
        const working = before.filter(Boolean).length;
        const left = after.filter(Boolean).length;
        if (working > 0 && left === 0) lost.push(`monitor-${number}-${index}`);
        // A leg that works today, though a turned tree may bring another one.
        else if (before.some((one, leg) => one && after[leg] !== true)) weakened.push(`monitor-${number}-${index}`);
      });
    });
    if (lost.length + weakened.length > 0) found.set(name, { lost: lost.sort(), weakened: weakened.sort() });
  }
  return found;
}

/** Search over (switch, VLAN); the router, switch 0, passes between the red VLANs. */
export function reaches(
  rig: RandomRig,
  gone: Gone,
  from: number,
  fromVlan: string,
  to: number,
  toVlan: string,
): boolean {
  if (gone.switches.has(from) || gone.switches.has(to)) return false;
  const blocked = blockedLinks(rig, gone);
  const seen = new Set<string>();
  const queue: (readonly [number, string])[] = [[from, fromVlan]];
  for (const [at, vlan] of queue) {
    const key = `${at} ${vlan}`;
    if (seen.has(key)) continue;
    seen.add(key);
    if (at === to && vlan === toVlan) return true;
    rig.links.forEach((link, index) => {
      if (gone.links.has(index) || blocked.has(index) || !link.vlans.includes(vlan)) return;
      const other = link.a === at ? link.b : link.b === at ? link.a : undefined;
      if (other !== undefined && !gone.switches.has(other)) queue.push([other, vlan]);
    });
    if (rig.routed && at === 0 && vlan.startsWith('red'))
      queue.push([at, vlan === 'red-video' ? 'red-audio' : 'red-video']);
  }
  return false;
}

/** Links with a discarding port: one tree for all VLANs, every link at 100 Gbit/s (IEEE 802.1D-2004 table 17-3: 200). */
function blockedLinks(rig: RandomRig, gone: Gone): ReadonlySet<number> {
  const known = TREES.get(rig) ?? new Map<string, ReadonlySet<number>>();
  TREES.set(rig, known);
  const key = `${[...gone.switches].join(' ')}/${[...gone.links].join(' ')}`;
  let found = known.get(key);
  if (found === undefined) {
    const roles = byMessages(
      rig.switches.map(({ priority, mac }) => ({ runs: true, passes: false, priority, mac, stand: 0 })),
      rig.links.map(({ a, b }, number) => ({
        ends: [
          { bridge: a, priority: 128, number, cost: 200 },
          { bridge: b, priority: 128, number, cost: 200 },
        ],
      })),
      { bridges: gone.switches, links: gone.links },
    );
    found = new Set(
      roles.flatMap((own, index) => (own?.some((role) => /alternate|backup/.test(role)) === true ? [index] : [])),
    );
    known.set(key, found);
  }
  return found;
}

const TREES = new WeakMap<RandomRig, Map<string, ReadonlySet<number>>>();
