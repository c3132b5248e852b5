import {
  byLabel,
  clause,
  commonPractice,
  defineRule,
  formatAddress,
  inRig,
  keepsPromise,
  legLabel,
  legSets,
  listNames,
  listOr,
  mark,
  otherMarks,
  otherPlaces,
  rangeWords,
  touchOf,
  touchOfKind,
  vlanSubject,
  type Address,
  type WordedDraft,
  type HouseGroups,
  type Leg,
  type LegSet,
  type Mark,
  type Model,
  type Network,
  type StrayKind,
  type StrayVlan,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'groups/outside-house',
  summary: 'A stream uses a group outside the ranges the house promises',
  severity: 'warning',
  sources: [
    clause('RFC 2365', '6.2'),
    commonPractice('a house keeps its own table of group ranges per network and kind of stream'),
  ],
  needs: ['groups', 'houseGroups'],
  *check({ model }) {
    const { vlans, kinds, alone } = model.strays;
    for (const one of vlans) yield vlanFinding(model, one);
    for (const one of kinds) yield kindFinding(model, one);
    const sets = legSets(alone, ({ sender }) => `${sender.label}${inRig(sender.rig)}`);
    for (const set of byLabel(sets, ({ subject }) => subject)) yield finding(model, set);
  },
});

const ON_AIR = "whatever is set up by the ranges (routing, filters, a second rig's plan) misses";
const PASSES = "may not pass a router, or run into somebody else's";

function vlanFinding(model: Model, { vlan, network, legs }: StrayVlan): WordedDraft {
  const sorted = byLabel(legs, legLabel);
  const broken = brokenBy(model, sorted);
  const homes = networksFor(sorted);
  return {
    subject: `VLAN ${vlanSubject(vlan)}`,
    parties: [vlan.name, network.name, ...sorted.map(legLabel)],
    what: `all ${sorted.length} streams of VLAN ${vlan.name}, which the plan puts in network ${network.name}, use groups outside ${listNames(broken.map(promiseWords), 3)}: ${listNames(sorted.map(show), 3)}`,
    at: mark(vlan, `VLAN ${vlan.name}: network ${network.name}`, 'network'),
    others: [...broken.map(promiseMark), ...groupMarks(sorted)],
    onAir: `${ON_AIR} these streams: they ${PASSES}; and their path is taken for one of network ${network.name}`,
    fix:
      homes.length === 0
        ? `put VLAN ${vlan.name} in the network it belongs to, or give network ${network.name} ranges for its streams under \`house: {groups: …}\``
        : `put VLAN ${vlan.name} in network ${listOr(homes.map(({ name }) => name))}, whose ranges hold all these groups; if ${network.name} is right, move the streams into its ranges`,
    touch: { kind: 'vlan', name: vlan.name },
  };
}

function kindFinding(model: Model, { kind, facts, legs }: StrayKind): WordedDraft {
  const sorted = byLabel(legs, legLabel);
  const [first] = sorted;
  const names = [...new Set(sorted.map(({ sender }) => sender.device?.name ?? sender.label))];
  const broken = brokenBy(model, sorted);
  const causes = byLabel(
    facts.map((fact) => ({ mark: factMark(kind, fact), words: factWords(fact) })),
    ({ words }) => words,
  );
  const [at, ...rest] = causes.map((cause) => cause.mark);
  return {
    subject: `kind ${kind.name}${inRig(kind.rig)}`,
    parties: sorted.map(legLabel),
    what: `kind ${kind.name} has ${listNames(
      causes.map(({ words }) => words),
      3,
    )}, and there ${sorted.length} streams of ${listNames(names, 4)} use groups outside ${listNames(broken.map(promiseWords), 3)}: ${listNames(sorted.map(show), 3)}`,
    at: at ?? mark(kind, `kind ${kind.name}`),
    others: [...rest, ...broken.map(promiseMark), ...groupMarks(sorted)],
    onAir: `${ON_AIR} these streams: they ${PASSES}${sorted.some(({ sender }) => sender.legs.length > 1) ? ', and where both legs leave on one network, one fault takes both' : ''}`,
    fix: `${listNames(
      byLabel(
        facts.map((fact) => factMend(model, fact)),
        (words) => words,
      ),
      4,
    )}, once in the kind${first === undefined ? '' : '; if the kind is right, move the groups into the ranges'}`,
    touch: touchOfKind(kind),
  };
}

function factWords({ key, leg }: StrayKind['facts'][number]): string {
  const via = leg.interface;
  if (key === 'group') return `${leg.sender.name} leg ${leg.index + 1} sending to ${formatAddress(leg.group ?? 0)}`;
  const vlan = via?.vlan === undefined ? '' : ` in VLAN ${via.vlan.name}`;
  return key === 'vlan'
    ? `interface ${via?.name ?? ''}${vlan}`
    : `${leg.sender.name} leg ${leg.index + 1} on interface ${via?.name ?? ''}${vlan === '' ? '' : ` (VLAN ${via?.vlan?.name ?? ''})`}`;
}

function factMark(kind: StrayKind['kind'], fact: StrayKind['facts'][number]): Mark {
  const { key, leg } = fact;
  return mark(
    key === 'vlan' && leg.interface !== undefined ? leg.interface : leg,
    `kind ${kind.name}: ${factWords(fact)}`,
    key,
  );
}

/** Where the kind has an interface on a network whose ranges hold the group, that one is meant. */
function factMend(model: Model, { key, leg }: StrayKind['facts'][number]): string {
  const which = `${leg.sender.name} leg ${leg.index + 1}`;
  const homes = networksFor([leg]);
  if (key === 'group') return `give ${which} a group of ${rangesFor(model, leg)}`;
  if (key === 'vlan') {
    const where =
      homes.length === 0 ? 'the VLAN it belongs to' : `a VLAN of network ${listOr(homes.map(({ name }) => name))}`;
    return `put interface ${leg.interface?.name ?? ''} in ${where}`;
  }
  const meant = leg.sender.device?.interfaces.find(
    (one) => one !== leg.interface && one.network !== undefined && homes.includes(one.network),
  );
  return meant === undefined
    ? `send ${which} from an interface on the network its group belongs to`
    : `send ${which} from interface ${meant.name}`;
}

function rangesFor(model: Model, leg: Leg): string {
  return listNames(brokenBy(model, [leg]).map(promiseWords), 2);
}

/** Networks of the rig that promise ranges for these streams, all of which hold their groups. */
function networksFor(legs: readonly Leg[]): readonly Network[] {
  const [first] = legs;
  if (first === undefined) return [];
  const networks = new Set(
    first.sender.rig.house.groups.flatMap(({ network }) =>
      network === undefined || network === first.network ? [] : [network],
    ),
  );
  return byLabel(
    [...networks].filter((network) => legs.every((leg) => fitsNetwork(leg, network))),
    ({ name }) => name,
  );
}

function fitsNetwork({ group, sender }: Leg, network: Network): boolean {
  const promises = sender.rig.house.groups.filter(
    (one) =>
      one.network === network &&
      one.vlan === undefined &&
      (one.essence === undefined || one.essence === sender.essence),
  );
  return group !== undefined && promises.length > 0 && promises.every((one) => keepsPromise(group, one));
}

function brokenBy(model: Model, legs: readonly Leg[]): readonly HouseGroups[] {
  const broken = new Set<HouseGroups>();
  for (const leg of legs) {
    const { group } = leg;
    if (group !== undefined) for (const one of model.heldTo(leg)) if (!keepsPromise(group, one)) broken.add(one);
  }
  return byLabel([...broken], promiseWords);
}

function show(leg: Leg): string {
  return `${legLabel(leg)} to ${formatAddress(leg.group ?? 0)}`;
}

function groupMarks(legs: readonly Leg[]): readonly Mark[] {
  const [first, ...rest] = legs.map((leg) => mark(leg, `${legLabel(leg)}: ${formatAddress(leg.group ?? 0)}`, 'group'));
  return first === undefined ? [] : [first, ...otherPlaces(first, rest)];
}

function promiseMark(promise: HouseGroups): Mark {
  return mark(promise, promiseWords(promise), 'ranges');
}

function finding(model: Model, set: LegSet): WordedDraft {
  const { first, legs, names, subject } = set;
  const broken = new Set<HouseGroups>();
  const sentences = legs.map((leg) => {
    const group = leg.group ?? 0;
    const promises = model.heldTo(leg).filter((promise) => !keepsPromise(group, promise));
    for (const promise of promises) broken.add(promise);
    return `${legLabel(leg)} sends to ${formatAddress(group)}, outside ${promises.map(promiseWords).join(' and outside ')}`;
  });
  return {
    subject,
    parties: names,
    what: sentences.join('; '),
    at: mark(first, `${legLabel(first)}: ${formatAddress(first.group ?? 0)}`, 'group'),
    others: [...otherMarks(set), ...[...broken].map(promiseMark)],
    onAir: `${ON_AIR} this stream: it ${PASSES}`,
    fix: mend(model, set),
    touch: touchOf(first.sender),
  };
}

function promiseWords(promise: HouseGroups): string {
  const { network, vlan, essence, ranges } = promise;
  const selectors = [
    network === undefined ? [] : `network ${network.name}`,
    vlan === undefined ? [] : `VLAN ${vlan.name}`,
    essence ?? [],
  ].flat();
  return `the house's ${rangeWords(ranges)}${selectors.length === 0 ? '' : ` for ${selectors.join(', ')}`}`;
}

/** A free group for each leg; the second leg's follows the first's where the house maps them. */
function mend(model: Model, { legs }: LegSet): string {
  const moved: { readonly leg: Leg; readonly to: Address }[] = [];
  for (const leg of legs) {
    const before = moved.find((one) => one.leg.index === 0)?.to;
    const to = model.proposals.groupFor(leg, before);
    if (to !== undefined) moved.push({ leg, to });
  }
  return moved.length < legs.length
    ? "move it into the house's range; where the ranges contradict each other or are full, change them under `house: {groups: …}`"
    : `move ${listNames(moved.map(({ leg, to }) => `${legLabel(leg)} to ${formatAddress(to)}`))}, free in this plan`;
}
