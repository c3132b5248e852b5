import { createEditList, likely, peopleDecide, type Cure, regroup } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  commonPractice,
  defineRule,
  formatAddress,
  inPrefix,
  inRig,
  isNonEmpty,
  legLabel,
  mark,
  noted,
  otherPlaces,
  subnetFor,
  touchOfKind,
  vlanSubject,
  type FindingDraft,
  type Leg,
  type Mark,
  type Model,
  type NonEmpty,
} from '../../../src/doors/rule.js';
import {
  brokenPromises,
  essenceByGroup,
  groupMark,
  homeNetworks,
  interfaceTowards,
  legSets,
  promiseWords,
  setDraft,
  type ConventionGroups,
  type LegSet,
  type StrayKind,
  type StrayVlan,
} from '../../../src/doors/groups.js';
import {
  statedWords,
  words,
  type Astray,
  type Facts,
  type Moved,
  type Note,
  type Resent,
  type Stated,
} from './words.js';

type Draft = FindingDraft<Facts, Note>;

export default defineRule<Facts, Note>({
  id: 'groups/outside-conventions',
  summary: 'A stream uses a group outside the ranges the conventions promise',
  severity: 'warning',
  sources: [
    clause('RFC 2365', '6.2'),
    commonPractice('conventions keep a table of their own of group ranges per network and kind of stream'),
  ],
  needs: ['groups', 'conventionGroups'],
  brief: "group outside the conventions' ranges",
  explains: ['not routed'],
  *check({ model }) {
    const { vlans, kinds, alone } = model.strays;
    for (const one of vlans) yield vlanFinding(model, one);
    for (const one of kinds) yield kindFinding(model, one);
    const sets = legSets(alone, ({ sender }) => `${sender.label}${inRig(sender.rig)}`);
    for (const set of byLabel(sets, ({ subject }) => subject)) yield streamFinding(model, set);
  },
  words,
});

function vlanFinding(model: Model, { vlan, network, legs }: StrayVlan): Draft {
  const sorted = byLabel(legs, legLabel);
  const broken = brokenBy(model, sorted);
  return {
    subject: `VLAN ${vlanSubject(vlan)}`,
    parties: [vlan.name, network.name, ...sorted.map(legLabel)],
    cure: () => {
      const edits = createEditList();
      const homes = homeNetworks(sorted);
      const [home] = homes;
      if (home !== undefined && homes.length === 1) edits.set(vlan, 'network', home.name);
      return likely(edits, 'which network the VLAN belongs to');
    },
    facts: { form: 'vlan', vlan, network, legs: sorted, promises: broken, homes: homeNetworks(sorted) },
    at: noted(mark(vlan, `VLAN ${vlan.name}`, 'network'), { network: network.name }),
    others: [...broken.map(promiseMark), ...groupMarks(sorted)],
    touch: { kind: 'vlan', name: vlan.name },
  };
}

function kindFinding(model: Model, { kind, facts, legs }: StrayKind): Draft {
  const sorted = byLabel(legs, legLabel);
  const broken = brokenBy(model, sorted);
  const stated = byLabel(
    facts.map((fact) => ({ fact, says: statedFact(model, fact) })),
    ({ says }) => statedWords(says),
  );
  const marks = stated.map(({ fact: { key, leg }, says }): Mark<Note> => {
    const at = key === 'vlan' && leg.interface !== undefined ? leg.interface : key === 'format' ? leg.sender : leg;
    return noted(mark(at, `kind ${kind.name}`, key), { says });
  });
  const [at, ...rest] = marks;
  return {
    subject: `kind ${kind.name}${inRig(kind.rig)}`,
    parties: sorted.map(legLabel),
    cure: () => kindCure(facts),
    facts: {
      form: 'kind',
      kind,
      stated: stated.map(({ says }) => says),
      legs: sorted,
      devices: [...new Set(sorted.map(({ sender }) => sender.device?.name ?? sender.label))],
      promises: broken,
      homes: broken.length === 0 ? homeNetworks(sorted) : undefined,
    },
    at: at ?? mark(kind, `kind ${kind.name}`),
    others: [...rest, ...broken.map(promiseMark), ...groupMarks(sorted)],
    touch: touchOfKind(kind),
  };
}

/** What the kind states, and where that belongs: the network whose ranges hold the group is meant. */
function statedFact(model: Model, { key, leg, meant }: StrayKind['facts'][number]): Stated {
  const via = leg.interface;
  const homes = homeNetworks([leg]);
  const base = { stream: leg.sender.name, leg: leg.index + 1, interface: via?.name ?? '', vlan: via?.vlan?.name };
  switch (key) {
    case 'group':
      return { key, ...base, group: formatAddress(leg.group ?? 0), promises: brokenPromises(leg, model.heldTo(leg)) };
    case 'vlan':
      return { key, ...base, homes };
    case 'interface':
      return { key, ...base, meant: interfaceTowards(leg, homes)?.name };
    case 'format':
      return { key, ...base, essence: leg.sender.essence, meant: essenceByGroup(leg), format: meant?.name };
  }
}

function streamFinding(model: Model, set: LegSet): Draft {
  const legs = set.legs.map((leg) => ({ leg, promises: brokenPromises(leg, model.heldTo(leg)) }));
  const broken = new Set(legs.flatMap(({ promises }) => promises));
  const draft = setDraft(set);
  const meant = set.legs.flatMap((leg) => {
    const via = model.strays.meant(leg);
    return via === undefined ? [] : [{ leg, interface: via }];
  });
  const resent = meant.length === set.legs.length ? meant : undefined;
  const astray = resent !== undefined ? undefined : interfaceAstray(model, set.legs);
  const moves = astray === undefined && resent === undefined ? movesFor(model, set.legs) : [];
  return {
    ...draft,
    cure: () =>
      resent !== undefined
        ? resend(resent)
        : astray === undefined
          ? regroup(model, set.legs, { offered: moves })
          : intoVlan(astray),
    facts: {
      form: 'stream',
      legs: legs.map(({ leg, promises }) => ({ leg, group: formatAddress(leg.group ?? 0), promises })),
      moves,
      astray,
      resent,
      homes: broken.size === 0 ? homeNetworks(set.legs) : undefined,
    },
    ...(resent === undefined ? {} : { at: interfaceMark(set.legs[0]) }),
    others: [...(resent === undefined ? [] : [draft.at]), ...(draft.others ?? []), ...[...broken].map(promiseMark)],
  };
}

/**
 * The one interface all the legs leave by, where its VLAN is the slip: every group it sends is at home in another network,
 * and so is its address, in one VLAN of that network.
 */
function interfaceAstray(model: Model, legs: readonly Leg[]): Astray | undefined {
  const [first, ...rest] = legs;
  const via = first?.interface;
  const address = via?.address;
  if (via === undefined || address === undefined || rest.some((leg) => leg.interface !== via)) return undefined;
  const sent = via.device.senders.flatMap(({ legs: all }) => all.filter((leg) => leg.interface === via));
  if (sent.some((leg) => leg.group !== undefined && !model.strays.has(leg))) return undefined;
  const [home, ...others] = homeNetworks(sent);
  if (home === undefined || others.length > 0) return undefined;
  const [vlan, ...more] = model.plan.vlans.filter((one) => {
    const subnet = one.network === home && one.rig === via.device.rig ? subnetFor(one, address) : undefined;
    return subnet !== undefined && inPrefix(address, subnet);
  });
  return vlan === undefined || vlan === via.vlan || more.length > 0 ? undefined : { interface: via, vlan };
}

/** Likely: groups and address agree, and the VLAN alone speaks against both. */
function intoVlan({ interface: via, vlan }: Astray): Cure {
  const edits = createEditList();
  edits.set(via, 'vlan', vlan.name);
  return likely(edits);
}

/** Likely: another interface of the box is on the network that the group is promised to. */
function resend(resent: readonly Resent[]): Cure {
  const edits = createEditList();
  for (const { leg, interface: via } of resent) edits.set(leg, 'interface', via.name);
  return likely(edits);
}

/** A free group for each leg, or none; the second leg's follows the first's where the conventions map them. */
function movesFor(model: Model, legs: readonly Leg[]): readonly Moved[] {
  const moved: (Moved & { readonly to: Parameters<typeof formatAddress>[0] })[] = [];
  for (const leg of legs) {
    const before = moved.find((one) => one.leg.index === 0)?.to;
    const to = model.proposals.groupFor(leg, before);
    if (to !== undefined) moved.push({ leg, group: formatAddress(to), to });
  }
  return moved.length < legs.length ? [] : moved.map(({ leg, group }) => ({ leg, group }));
}

function brokenBy(model: Model, legs: readonly Leg[]): readonly ConventionGroups[] {
  const broken = new Set(legs.flatMap((leg) => brokenPromises(leg, model.heldTo(leg))));
  return byLabel([...broken], promiseWords);
}

function interfaceMark(leg: Leg): Mark<Note> {
  return noted(mark(leg, legLabel(leg), 'interface'), { via: leg.interface?.name ?? '' });
}

function groupMarks(legs: readonly Leg[]): readonly Mark<Note>[] {
  const marks = legs.map(groupMark);
  if (!isNonEmpty(marks)) return [];
  const [first, ...rest]: NonEmpty<Mark<string>> = marks;
  return [first, ...otherPlaces(first, rest)];
}

function promiseMark(promise: ConventionGroups): Mark<never> {
  return mark(promise, promiseWords(promise), 'ranges');
}

/** The kind's leg leaves by the interface on the network its group belongs to. */
function kindCure(facts: StrayKind['facts']): Cure {
  const edits = createEditList();
  for (const { key, leg, meant: format } of facts) {
    if (key === 'format') {
      if (format === undefined) return peopleDecide('which format the stream has');
      edits.setWhereWritten(leg.sender, 'format', format.name);
      continue;
    }
    const homes = homeNetworks([leg]);
    const meant = interfaceTowards(leg, homes);
    if (key !== 'interface' || meant === undefined)
      return peopleDecide('whether the kind or the groups of its devices are meant');
    edits.setWhereWritten(leg, 'interface', meant.name);
  }
  return likely(edits);
}
