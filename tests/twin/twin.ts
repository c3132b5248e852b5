/** Both sides of the comparison in one form: for each stream, the hosts and link directions that carry it. */
import { createModel } from '../../src/model/model.js';
import { carriedBy } from '../../src/model/network/forward.js';
import { resolvePlan } from '../../src/plan/resolve/index.js';
import type { Plan } from '../../src/plan/types.js';
import { readDocument } from '../../src/read/index.js';
import type { BenchSpec } from './spec.js';
import { Lab, whyNoLab } from './lab.js';
import { planOf, type Plane, type ShortRig } from './rigs.js';

export interface Carries {
  readonly hosts: readonly string[];
  /** `from>to`. */
  readonly links: readonly string[];
}

/** By `host/group` of the sender. */
export type Picture = Readonly<Record<string, Carries>>;

/** `about` is what the plan says of every switch; `file` stands for the rig where a plan says more. */
export function resolve(rig: ShortRig, about?: object, file: object = planOf(rig, about)): Plan {
  return resolveFile(file);
}

export function resolveFile(file: object): Plan {
  const read = readDocument({ name: 'plan.json', text: JSON.stringify(file) });
  if (read.document === undefined) throw new Error(JSON.stringify(read.problems));
  const { plan, problems } = resolvePlan([read.document]);
  if (problems.length > 0 || plan.unresolved.length > 0)
    throw new Error(JSON.stringify([problems, plan.unresolved.map((one) => one.text)]));
  return plan;
}

/** What the model says. */
export function modelled(plan: Plan): Picture {
  const picture: Record<string, { readonly hosts: Set<string>; readonly links: Set<string> }> = {};
  for (const leg of plan.legs) picture[leg.sender.label] = { hosts: new Set(), links: new Set() };
  for (const flow of createModel(plan).network.flows) {
    const found = picture[flow.leg.sender.label];
    const { nodes } = flow.forwarding.segment;
    const { steps, ports } = carriedBy(flow);
    for (const step of steps.keys())
      found?.links.add(`${nodes[step.from]?.name ?? '?'}>${nodes[step.to]?.name ?? '?'}`);
    for (const one of ports.keys()) found?.hosts.add(one.device.name);
  }
  return sorted(picture);
}

const REASONS = new Map<Plane, string | undefined>();

/** Why nothing can be built on a plane on this machine; undefined where it can. */
export function whyNoPlane(plane: Plane): string | undefined {
  if (!REASONS.has(plane))
    REASONS.set(
      plane,
      plane === 'bridges' ? whyNoLab('python3') : whyNoLab('python3', 'ovs-vswitchd', 'ovsdb-server', 'ovs-vsctl'),
    );
  return REASONS.get(plane);
}

export interface Bench {
  readonly plan: Plan;
  readonly spec: BenchSpec;
}

export interface Observed {
  /** One picture each time the senders sent. */
  readonly pictures: readonly Picture[];
  /** Why there is none. */
  readonly error: string | undefined;
}

/** What the kernel did with each bench. Every packet must come through once or not at all. */
async function observe(benches: readonly Bench[]): Promise<readonly Observed[]> {
  const answer = await drive(JSON.stringify(benches.map(({ spec }) => spec)));
  const { packets, results } = JSON.parse(answer) as DriverAnswer;
  return benches.map(({ plan }, index) => {
    const { seen = [], error } = results[index] ?? { error: 'no answer' };
    return { pictures: seen.map((streams) => pictureOf(plan, streams, packets)), error };
  });
}

/** Times that what does not agree is run again, and how often side by side each time. */
const TIMES_AGAIN = 2;
const COPIES = 4;
/** As many as the driver takes at once. */
const MOST_BENCHES = 80;

/**
 * The same, but rigs that do not agree are run again, by themselves: on a busy machine a report can come late, and some
 * rigs go either way with the order of reports (README.md beside this file), while a model that is wrong is wrong each time.
 */
export async function observeUntil(
  agrees: (index: number, seen: Observed) => boolean,
  benches: readonly Bench[],
): Promise<readonly Observed[]> {
  const found = [...(await observe(benches))];
  for (let again = 0; again < TIMES_AGAIN; again++) {
    const wrong = found.flatMap((one, index) => (agrees(index, one) ? [] : [index]));
    if (wrong.length === 0) break;
    const copies = Math.min(COPIES, Math.floor(MOST_BENCHES / wrong.length));
    const tried = wrong.flatMap((index) => Array.from({ length: copies }, () => index));
    const seen = await observe(tried.flatMap((index) => benches[index] ?? []));
    seen.forEach((one, order) => {
      const index = tried[order] ?? -1;
      const before = found[index];
      if (before !== undefined && !agrees(index, before)) found[index] = one;
    });
  }
  return found;
}

/** Runs the driver in a lab of its own, beside the test worker, which must stay able to answer. */
async function drive(request: string): Promise<string> {
  return Lab.with((lab) => lab.run('python3', ['-B', DRIVER, lab.folder], { input: request, mostMs: 190_000 }));
}

const DRIVER = new URL('driver/main.py', import.meta.url).pathname;

interface DriverAnswer {
  readonly packets: number;
  readonly results: readonly { readonly seen?: readonly (readonly Counts[])[]; readonly error?: string }[];
}

interface Counts {
  readonly ports: Readonly<Record<string, number>>;
  readonly links: Readonly<Record<string, number>>;
}

function pictureOf(plan: Plan, streams: readonly Counts[], packets: number): Picture {
  return sorted(
    Object.fromEntries(
      plan.legs.map((leg, index) => {
        const counts = streams[index] ?? { ports: {}, links: {} };
        // A link shows its VLAN only where that is not the sender's: what leaks from one VLAN to the other is told.
        const own = `@${leg.vlan?.name ?? ''}`;
        const links = named(counts.links, packets).map((name) =>
          name.endsWith(own) ? name.slice(0, -own.length) : name,
        );
        return [leg.sender.label, { hosts: new Set(named(counts.ports, packets)), links: new Set(links) }];
      }),
    ),
  );
}

/** Names of what carried all packets; what carried some or too many shows its count. */
function named(counts: Readonly<Record<string, number>>, packets: number): readonly string[] {
  return Object.entries(counts).map(([name, count]) =>
    count === packets ? name : `${name} (${count} of ${packets} packets)`,
  );
}

function sorted(
  picture: Readonly<Record<string, { readonly hosts: ReadonlySet<string>; readonly links: ReadonlySet<string> }>>,
): Picture {
  return Object.fromEntries(
    Object.entries(picture)
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([name, { hosts, links }]) => [name, { hosts: [...hosts].sort(), links: [...links].sort() }]),
  );
}
