/** What a model says of a rig of routers held against what was seen: stream by stream, loads, verdicts, who is lost. */
import { isDeepStrictEqual } from 'node:util';
import { createModel, type Model } from '../../src/model/model.js';
import { buildLoad, type Failures } from '../../src/model/network/index.js';
import { DELIVERED } from '../../src/model/verdicts/index.js';
import type { Plan, Practice } from '../../src/plan/types.js';
import { modelledRoutes, routedPlan } from './routed-plan.js';
import { linkName, tagOf, uplinkName, type Cut, type RoutedPicture, type RoutedRig } from './routers.js';

export interface RoutedExpected {
  readonly rig: RoutedRig;
  readonly plan: Plan;
  readonly model: Model;
  /** As the plan says it; more where routers may take another of several equal paths. */
  readonly pictures: readonly [RoutedPicture, ...RoutedPicture[]];
}

export interface RoutedDifference {
  readonly stage: number;
  readonly where: 'way' | 'load' | 'verdict' | 'failure';
  readonly name: string;
  readonly expected: unknown;
  readonly seen: unknown;
}

/** While nothing is lost: each router takes the lowest address of several equal paths. */
export function expectedWhole(rig: RoutedRig): RoutedExpected {
  const plan = routedPlan(rig);
  return { rig, plan, model: createModel(plan), pictures: [modelledRoutes(rig, plan)] };
}

/**
 * After a loss: a router that has several equal paths then may keep the one it had, while the plan's `equalPaths` says which
 * it takes that has none yet (RFC 7761 §4.1.5 leaves both open). So each router may take its lowest or its highest address.
 */
export function expectedAfter(rig: RoutedRig, cut: Cut): RoutedExpected {
  const plan = routedPlan(rig, cut);
  const first = modelledRoutes(rig, plan);
  const highest = new Set(rig.routers);
  const isSame = isDeepStrictEqual(first, modelledRoutes(rig, choosing(routedPlan(rig, cut), highest)));
  const others = isSame
    ? []
    : subsets(rig.routers).map((some) => modelledRoutes(rig, choosing(routedPlan(rig, cut), some)));
  return { rig, plan, model: createModel(plan), pictures: [first, ...others] };
}

/** Some routers as those of a rig that takes the highest of equal addresses. */
function choosing(plan: Plan, routers: ReadonlySet<string>): Plan {
  for (const one of plan.switches) {
    if (!routers.has(one.name)) continue;
    const practice: Practice = { ...one.rig.practice, equalPaths: 'highest-address' };
    Object.assign(one, { rig: { ...one.rig, practice } });
  }
  return plan;
}

function subsets(names: readonly string[]): readonly ReadonlySet<string>[] {
  return Array.from(
    { length: 2 ** names.length - 1 },
    (_, bits) => new Set(names.filter((__, index) => ((bits + 1) >> index) % 2 === 1)),
  );
}

/** Streams whose way the routers choose. */
export function eitherWay({ rig, pictures: [first, ...others] }: RoutedExpected): ReadonlySet<string> {
  return new Set(
    rig.streams
      .map(({ name }) => name)
      .filter((name) => others.some((other) => !isDeepStrictEqual(other[name], first[name]))),
  );
}

export function routedDifferences(
  { cut, stages }: { readonly cut: Cut; readonly stages: readonly [RoutedExpected, RoutedExpected] },
  seen: readonly RoutedPicture[],
): readonly RoutedDifference[] {
  const [before = {}, after = {}] = seen;
  if (seen.length !== stages.length)
    return [{ stage: 0, where: 'way', name: 'stages', expected: stages.length, seen: seen.length }];
  const found = stages.flatMap((stage, index) => {
    const own = seen[index] ?? {};
    return [...ways(stage, own), ...loads(stage, own), ...verdicts(stage, own)].map((one) => ({
      stage: index,
      ...one,
    }));
  });
  const either = eitherWay(stages[1]);
  const [whole] = stages;
  const lost = lostBy(whole.model.failures, whole.rig, cut).filter((one) => !either.has(one.split(' ')[1] ?? ''));
  const dark = whole.rig.streams
    .flatMap(({ name, to }) => to.map((host) => ({ host, name })))
    .filter(({ host, name }) => host in (before[name]?.hosts ?? {}) && !(host in (after[name]?.hosts ?? {})))
    .filter(({ name }) => !either.has(name))
    .map(({ host, name }) => `${host} ${name}`)
    .sort();
  const failed = isDeepStrictEqual(lost, dark)
    ? []
    : [{ stage: 1, where: 'failure' as const, name: 'lost', expected: lost, seen: dark }];
  return [...found, ...failed];
}

type Found = Omit<RoutedDifference, 'stage'>;

function ways({ rig, pictures }: RoutedExpected, seen: RoutedPicture): readonly Found[] {
  return rig.streams.flatMap(({ name }) => {
    if (pictures.some((one) => isDeepStrictEqual(one[name], seen[name]))) return [];
    return [{ where: 'way' as const, name, expected: pictures[0][name], seen: seen[name] }];
  });
}

/** Powers of it tell which streams a sum is of: none comes over a link more than once in each of two networks. */
const BASE = 4;

/** Each link both ways, and each host port: what `loads` adds up there. */
function loads(expected: RoutedExpected, seen: RoutedPicture): readonly Found[] {
  const { rig, plan, model } = expected;
  if (eitherWay(expected).size > 0) return [];
  const weights = new Map(rig.streams.map(({ name }, index) => [name, BASE ** index]));
  const weightOf = (name: string): number => weights.get(name) ?? NaN;
  const sum = (holds: (name: string) => number): number =>
    rig.streams.reduce((total, { name }) => total + weightOf(name) * holds(name), 0);
  const { links, ports } = buildLoad(plan, model.network, ({ leg }) => {
    const weight = weightOf(leg.sender.name);
    return { onLink: weight, onPort: weight };
  });
  const found: Found[] = [];
  const hold = (name: string, says: number, saw: number): void => {
    if (says !== saw) found.push({ where: 'load', name, expected: says, seen: saw });
  };
  for (const [link, { there, back }] of links) {
    const [near, far] = link.ends.map((end) => end.switch?.name ?? '?');
    const transit = rig.links.findIndex((_, index) => link.name === linkName(index));
    const tag = transit === -1 ? '@' : tagOf(rig, transit);
    const over = (from: string, to: string): number =>
      sum((name) => (seen[name]?.links ?? []).filter((one) => isOver(one, `${from}>${to}`, tag)).length);
    hold(`${near}>${far}`, there, over(near ?? '?', far ?? '?'));
    hold(`${far}>${near}`, back, over(far ?? '?', near ?? '?'));
  }
  for (const one of plan.interfaces) {
    const load = one.port === undefined ? undefined : ports.get(one.port);
    const host = one.device.name;
    hold(
      host,
      load?.toHost ?? 0,
      sum((name) => (host in (seen[name]?.hosts ?? {}) ? 1 : 0)),
    );
    hold(
      `from ${host}`,
      load?.fromHost ?? 0,
      sum((name) => (rig.streams.some((s) => s.name === name && s.from === host) ? 1 : 0)),
    );
  }
  return found;
}

function isOver(seen: string, way: string, tag: string): boolean {
  return tag === '@' ? seen.startsWith(`${way}@`) : seen === `${way}${tag}`;
}

/** A stream is called delivered where its packets came. */
function verdicts(expected: RoutedExpected, seen: RoutedPicture): readonly Found[] {
  const { plan, model } = expected;
  const either = eitherWay(expected);
  return plan.receiverLegs.flatMap((taker): Found[] => {
    const leg = taker.takes;
    const name = leg?.sender.name ?? '';
    if (leg === undefined || either.has(name)) return [];
    const host = taker.receiver.device.name;
    const came = host in (seen[name]?.hosts ?? {});
    const fate = model.judge(leg, taker);
    return (fate === DELIVERED) === came
      ? []
      : [{ where: 'verdict', name: `${host} ${name}`, expected: fate, seen: came }];
  });
}

/** `host stream` of what `failures` says is lost with one thing. */
function lostBy(
  { ranked }: Failures,
  { streams }: RoutedRig,
  { links = [], routers = [], uplinks = [] }: Cut,
): readonly string[] {
  const names = [...links.map(linkName), ...routers, ...uplinks.map(uplinkName)];
  const kind = routers.length > 0 ? 'switch' : 'link';
  const found = ranked.find(({ element }) => element.kind === kind && names.includes(element.name));
  return (found?.lost ?? [])
    .map(({ receiver, sender }) => `${receiver.device.name} ${sender.name}`)
    .filter((one) => streams.some(({ name }) => one.endsWith(` ${name}`)))
    .sort();
}
