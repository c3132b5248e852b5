/** What changes on paper only: promises of the conventions, names of formats, pairs and round trips, waivers. */
import type {
  Format,
  Conventions,
  LipSync,
  MediaTiming,
  Plan,
  Practice,
  Rig,
  RoundTrip,
  Sender,
} from '../plan/types.js';
import { formatPrefix } from '../values/address.js';
import type { Context } from './context.js';
import {
  entrySteps,
  factSteps,
  numeral,
  setOf,
  setOfValues,
  step,
  type Facts,
  type StepPlace,
  type Value,
} from './facts.js';
import { keyOf, pairUp } from './pairing.js';
import type { Step } from './steps.js';
import { formatFacts, rangeText } from './values.js';

export function paperSteps(context: Context): readonly Step[] {
  return [
    ...rigSteps(context),
    ...networkSteps(context),
    ...formatPaper(context),
    ...timingSteps(context),
    ...waiverSteps(context),
    ...joinSteps(context),
  ];
}

function rigSteps({ before, after, pairing }: Context): readonly Step[] {
  const pairs = pairUp(before.rigs, after.rigs, pairing.rigKey);
  return pairs.both.flatMap(([old, now]) => [
    ...(old.name === now.name ? [] : [step(paper(now, 'rig'), 'rename', 'name', old.name, now.name)]),
    ...rangeSteps(old.conventions, now, pairing.identity),
    ...factSteps(paper(now, 'conventions'), conventionFacts(old.conventions), conventionFacts(now.conventions)),
    ...factSteps(paper(now, 'practice'), practiceFacts(old.practice), practiceFacts(now.practice)),
  ]);
}

/** Promised groups by what they are for: network, VLAN, essence. */
function rangeSteps(before: Conventions, rig: Rig, identity: (thing: object) => number): readonly Step[] {
  const old = rangesByUse(before, identity);
  const now = rangesByUse(rig.conventions, identity);
  return [...new Set([...now.keys(), ...old.keys()])].flatMap((key) => {
    const [was, is] = [old.get(key), now.get(key)];
    const place = { ...paper(rig, 'conventions'), at: (is ?? was)?.use };
    return entrySteps(place, 'groups', setOf(was?.ranges ?? []), setOf(is?.ranges ?? []));
  });
}

interface PromisedRanges {
  readonly use: string | undefined;
  readonly ranges: string[];
}

function rangesByUse(
  { groups }: Conventions,
  identity: (thing: object) => number,
): ReadonlyMap<string, PromisedRanges> {
  const byUse = new Map<string, PromisedRanges>();
  for (const { network, vlan, essence, ranges } of groups) {
    const use = [
      ...(network === undefined ? [] : [`network ${network.name}`]),
      ...(vlan === undefined ? [] : [`VLAN ${vlan.name}`]),
      ...(essence === undefined ? [] : [essence]),
    ].join(', ');
    const key = keyOf(...[network, vlan].map((one) => String(one && identity(one))), essence ?? '');
    const texts = ranges.flatMap((range) => rangeText(range) ?? []);
    const known = byUse.get(key);
    if (known === undefined) byUse.set(key, { use: use === '' ? undefined : use, ranges: texts });
    else known.ranges.push(...texts);
  }
  return byUse;
}

function conventionFacts(conventions: Conventions): Facts {
  const map = (entries: Conventions['groupMap']): string | undefined =>
    setOf(entries.map(({ first, second }) => `${formatPrefix(first)} to ${formatPrefix(second)}`));
  return {
    'groups of the second leg': map(conventions.groupMap),
    'sources of the second leg': map(conventions.sourceMap),
    'UDP port of the second leg': numeral(conventions.portOffset, 'above the first'),
    'autonomous system': numeral(conventions.autonomousSystem),
    'unicast prefixes': setOf(conventions.prefixes.map(formatPrefix)),
    thresholds: setOf(Object.entries(conventions.thresholds).map(([name, value]) => `${name} ${value}`)),
  };
}

function practiceFacts(practice: Practice): Facts {
  return {
    follows: practice.name,
    cites: practice.cites,
    'group ranges': setOf(practice.groupRanges.map(formatPrefix)),
    'source-specific groups': setOf(practice.sourceSpecific.map(formatPrefix)),
    'IGMP version': numeral(practice.igmpVersion),
    'equal paths': practice.equalPaths,
    DSCP: setOf(Object.entries(practice.dscp).map(([name, value]) => `${name} ${value}`)),
    'PTP domain': numeral(practice.ptpDomain),
  };
}

function networkSteps({ pairing: { networks } }: Context): readonly Step[] {
  const place = ({ rig, name }: { readonly rig: Rig; readonly name: string }): StepPlace => ({
    ...paper(rig, `network ${name}`),
    network: name,
  });
  return [
    ...networks.both.flatMap(([old, now]) =>
      factSteps(place(now), { role: old.role, leg: numeral(old.leg) }, { role: now.role, leg: numeral(now.leg) }),
    ),
    ...networks.gone.flatMap((one) => entrySteps(place(one), 'network', one.name, undefined)),
    ...networks.fresh.flatMap((one) => entrySteps(place(one), 'network', undefined, one.name)),
  ];
}

function formatPaper({ before, after, pairing: { rigKey } }: Context): readonly Step[] {
  const named = ({ formats }: Plan): readonly Format[] => formats.filter(({ name }) => name !== undefined);
  const rigOf = rigsByDocument(before, after);
  const pairs = pairUp(named(before), named(after), (one) => keyOf(rigKeyOf(one), one.name ?? ''));
  const place = (one: Format): StepPlace => paper(rigOf(one), `format ${one.name ?? ''}`);
  return [
    ...pairs.both.flatMap(([old, now]) => factSteps(place(now), formatFacts(old), formatFacts(now))),
    ...pairs.gone.flatMap((one) => entrySteps(place(one), 'format', one.name, undefined)),
    ...pairs.fresh.flatMap((one) => entrySteps(place(one), 'format', undefined, one.name)),
  ];

  function rigKeyOf(one: Format): string {
    const rig = rigOf(one);
    return rig === undefined ? '' : rigKey(rig);
  }
}

/** A format does not say whose it is; its document does, by what else stands there. */
function rigsByDocument(...plans: readonly Plan[]): (format: Format) => Rig | undefined {
  const rigs = new Map<unknown, Rig>();
  for (const plan of plans)
    for (const list of [plan.networks, plan.vlans, plan.switches, plan.devices, plan.mediaTimings])
      for (const { origin, rig } of list) if (!rigs.has(origin.document)) rigs.set(origin.document, rig);
  const only = new Map(plans.flatMap((plan) => plan.documents.map((document) => [document, plan.rigs[0]] as const)));
  return ({ origin: { document } }) => rigs.get(document) ?? only.get(document);
}

function timingSteps({ before, after, pairing }: Context): readonly Step[] {
  const { rigKey, identity } = pairing;
  const clocks = (plan: Plan): ReadonlyMap<string, MediaTiming['mediaClock']> =>
    new Map(plan.mediaTimings.map((one) => [rigKey(one.rig), one.mediaClock]));
  const mediaBefore = clocks(before);
  const mediaAfter = clocks(after);
  const named = ({ rig, name }: { readonly rig: Rig; readonly name: string }): string => keyOf(rigKey(rig), name);
  const chain = (senders: readonly Sender[]): Value | undefined =>
    senders.length === 0
      ? undefined
      : {
          text: senders.map(({ label }) => label).join(', '),
          key: senders.map((one) => String(identity(one))).join(' '),
        };
  const pairFacts = (one: LipSync | undefined): Facts => ({
    at: one?.at === undefined ? undefined : { text: one.at.name, key: String(identity(one.at)) },
    picture: chain(one?.picture ?? []),
    sound: chain(one?.sound ?? []),
  });
  const tripFacts = (one: RoundTrip | undefined): Facts => ({
    kind: one?.kind,
    there: chain(one?.there ?? []),
    back: chain(one?.back ?? []),
  });
  return [
    ...after.rigs.flatMap((rig) =>
      factSteps(
        paper(rig, 'timing'),
        { 'media clock': mediaBefore.get(rigKey(rig)) },
        { 'media clock': mediaAfter.get(rigKey(rig)) },
      ),
    ),
    ...chains(before.lipSyncs, after.lipSyncs, 'lip sync', pairFacts),
    ...chains(before.roundTrips, after.roundTrips, 'round trip', tripFacts),
  ];

  function chains<T extends { readonly rig: Rig; readonly name: string }>(
    old: readonly T[],
    now: readonly T[],
    what: string,
    factsOf: (one: T | undefined) => Facts,
  ): readonly Step[] {
    const pairs = pairUp(old, now, named);
    const place = ({ rig, name }: T): StepPlace => paper(rig, `${what} ${name}`);
    return [
      ...pairs.both.flatMap(([one, other]) => factSteps(place(other), factsOf(one), factsOf(other))),
      ...pairs.gone.flatMap((one) => entrySteps(place(one), what, one.name, undefined)),
      ...pairs.fresh.flatMap((one) => entrySteps(place(one), what, undefined, one.name)),
    ];
  }
}

function waiverSteps({ before, after }: Context): readonly Step[] {
  const pairs = pairUp(before.waivers, after.waivers, ({ rule, subject, parties }) =>
    keyOf(rule, subject, ...[...(parties ?? [])].sort()),
  );
  const place = (one: { readonly rule: string; readonly subject: string }): StepPlace => ({
    ...paper(undefined, `waiver ${one.rule}`),
    at: one.subject,
  });
  return [
    ...pairs.both.flatMap(([old, now]) =>
      factSteps(place(now), { reason: old.reason, until: old.until }, { reason: now.reason, until: now.until }),
    ),
    ...pairs.gone.flatMap((one) => entrySteps(place(one), 'waiver', one.reason, undefined)),
    ...pairs.fresh.flatMap((one) => entrySteps(place(one), 'waiver', undefined, one.reason)),
  ];
}

function joinSteps({ before, after, pairing: { identity } }: Context): readonly Step[] {
  const joined = (plan: Plan): readonly { readonly text: string; readonly key: string }[] =>
    plan.joins.flatMap(
      ({ vlans, networks }) =>
        setOfValues(
          [...vlans, ...networks].map((one) => ({ text: `${one.rig.name}:${one.name}`, key: String(identity(one)) })),
        ) ?? [],
    );
  const pairs = pairUp(joined(before), joined(after), ({ key }) => key);
  return [
    ...pairs.gone.flatMap((one) => entrySteps(paper(undefined, 'joins'), 'join', one.text, undefined)),
    ...pairs.fresh.flatMap((one) => entrySteps(paper(undefined, 'joins'), 'join', undefined, one.text)),
  ];
}

function paper(rig: Rig | undefined, name: string): StepPlace {
  return { rig: rig?.name ?? '', box: { kind: 'plan', name }, part: 'paper' };
}
