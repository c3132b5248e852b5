import {
  byLabel,
  clause,
  commonPractice,
  defineRule,
  elementLabel,
  elementMarks,
  elementSubject,
  elementTouch,
  groupBy,
  imageOf,
  inRig,
  kindThatWrites,
  listNames,
  mark,
  nothingOf,
  otherPlaces,
  sharedByLegs,
  streamsOf,
  type Element,
  type Fate,
  type WordedDraft,
  type Leg,
  type Mark,
  type Model,
  type Plan,
  type ReceiverLeg,
  type Sender,
  type Vlan,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'redundancy/legs-share',
  summary: 'Both legs of a stream depend on one thing',
  severity: 'warning',
  sources: [
    clause('RFC 7198', '5'),
    clause('ST 2022-7', '6'),
    commonPractice('the two legs of a stream share nothing between the boxes at its ends'),
  ],
  needs: ['pairs'],
  *check({ plan, model }) {
    yield* interfaceFindings(plan, model);
    yield* vlanFindings(plan);
    if (plan.interfaces.some(({ port }) => port !== undefined)) yield* elementFindings(plan, model);
  },
});

/** A sender or receiver with both legs on one interface although its device has another for media. */
function* interfaceFindings(plan: Plan, model: Model): Iterable<WordedDraft> {
  const doubled: Doubled[] = [];
  for (const sender of plan.senders) {
    const { device, label, legs } = sender;
    if (device !== undefined && legs.length > 1 && onOneInterface(legs) && !breaksPromise(legs, model))
      doubled.push({ label, device, leg: legs[1], stream: sender });
  }
  for (const { device, label, legs, takes, format } of plan.receivers) {
    if (legs.length > 1 && onOneInterface(legs) && legs[0]?.takes !== legs[1]?.takes)
      doubled.push({ label, device, leg: legs[1], stream: takes ?? { essence: undefined, format } });
  }
  for (const [cause, list] of byLabel([...groupBy(doubled, causeOf)], ([key]) => key)) {
    const sorted = byLabel(list, ({ label }) => label);
    const [first] = sorted;
    const via = first?.leg?.interface;
    if (first?.leg === undefined || via === undefined) continue;
    const names = sorted.map(({ label }) => label);
    const free = first.device.interfaces
      .filter((one) => one !== via && isForMedia(one.network?.role))
      .map((one) => one.name);
    const at = mark(first.leg, `${first.label} leg ${first.leg.index + 1}: on ${via.name} too`, 'interface');
    yield {
      subject: cause,
      parties: names,
      what: `both legs of ${listNames(names)} are on interface ${via.name}`,
      at,
      others: otherPlaces(
        at,
        sorted.flatMap(({ label, leg }) =>
          leg === undefined ? [] : [mark(leg, `${label} leg ${leg.index + 1}`, 'interface')],
        ),
      ),
      onAir: `nothing until the cable or port of this interface fails; then both copies are gone at once: ${nothingOf(sorted.map(({ stream }) => stream))}`,
      fix: `put leg ${first.leg.index + 1} on ${listNames(free)}`,
      touch: { kind: 'device', name: first.device.name },
    };
  }
}

interface Doubled {
  readonly label: string;
  readonly device: NonNullable<Sender['device']>;
  readonly leg: Leg | ReceiverLeg | undefined;
  readonly stream: Pick<Sender, 'essence' | 'format'>;
}

function causeOf({ leg, device }: Doubled): string | undefined {
  const via = leg?.interface;
  if (
    leg === undefined ||
    via === undefined ||
    !device.interfaces.some((one) => one !== via && isForMedia(one.network?.role))
  )
    return undefined;
  const kind = kindThatWrites(leg, device, 'interface');
  return `interface ${via.name} of ${kind === undefined ? device.name : `kind ${kind.name}`}${inRig(device.rig)}`;
}

/** Both on one interface; two legs that are one stream to the network belong to groups/legs-share-group. */
function onOneInterface(legs: readonly (Leg | ReceiverLeg)[]): boolean {
  const [a, b] = legs;
  return a?.interface !== undefined && a.interface === b?.interface && a.group !== b.group;
}

/** What the house promises says more exactly what is wrong: groups/outside-house, sources/leg-map. */
function breaksPromise([first, second]: readonly Leg[], { strays }: Model): boolean {
  if (first === undefined || second === undefined) return false;
  const image = first.source === undefined ? undefined : imageOf(first.source, first.sender.rig.house.sourceMap);
  return strays.has(second) || (image !== undefined && image !== second.source);
}

function isForMedia(role: string | undefined): boolean {
  return role !== 'control' && role !== 'management' && role !== 'timing' && role !== 'wan';
}

/** Two interfaces in one VLAN: any fault of that VLAN takes both. */
function* vlanFindings(plan: Plan): Iterable<WordedDraft> {
  const both = plan.senders.filter(({ legs }) => inOneVlan(legs));
  for (const [vlan, senders] of byLabel(
    [...groupBy(both, ({ legs }): Vlan | undefined => legs[0]?.vlan)],
    ([{ name, rig }]) => `${name}${inRig(rig)}`,
  )) {
    const sorted = byLabel(senders, ({ label }) => label);
    const [first] = sorted;
    const second = first?.legs[1];
    if (first === undefined || second === undefined) continue;
    const names = sorted.map(({ label }) => label);
    const at = mark(second, `${first.label} leg ${second.index + 1}: in VLAN ${vlan.name} too`, 'interface');
    yield {
      subject: `VLAN ${vlan.name}${inRig(vlan.rig)}`,
      parties: names,
      what: `both legs of ${listNames(names)} are in VLAN ${vlan.name}`,
      at,
      others: otherPlaces(at, [
        ...sorted.flatMap(({ label, legs }) =>
          legs.map((leg) => mark(leg, `${label} leg ${leg.index + 1}`, 'interface')),
        ),
        mark(vlan, `VLAN ${vlan.name}`, 'name'),
      ]),
      onAir:
        'nothing until something goes wrong in this VLAN: a storm, a lost querier or a new spanning tree stops both copies at once',
      fix: 'put the second legs into a VLAN of the other network',
      touch: { kind: 'vlan', name: vlan.name },
    };
  }
}

/** Interfaces with addresses in one VLAN are the business of hosts/two-in-one-subnet, equal groups of groups/legs-share-group. */
function inOneVlan([a, b]: readonly Leg[]): boolean {
  if (a?.vlan === undefined || a.vlan !== b?.vlan || a.interface === b.interface || a.group === b.group) return false;
  return [a, b].some(
    ({ interface: via }) => via === undefined || (via.address === undefined && via.address6 === undefined && !via.dhcp),
  );
}

/** Switches, links, routers, risks and feeds that every leg crosses; elements that take the same receptions are one cause. */
function* elementFindings(plan: Plan, model: Model): Iterable<WordedDraft> {
  if (model.keptApart) return;
  const fates = sharedByLegs(model.failures);
  if (fates.length === 0) return;
  const numbers = new Map(model.failures.receptions.map((one, index) => [one, index]));
  const solid = fates.filter(({ element }) => element.kind !== 'risk' && element.kind !== 'power feed');
  const told = new Set(solid.flatMap(({ lost }) => lost));
  // A feed or a duct that takes no more than the shared switch on it is not a second cause.
  const wide = fates.filter((one) => !solid.includes(one) && one.lost.some((reception) => !told.has(reception)));
  const causes = [
    ...groupBy([...solid, ...wide], ({ lost }) => lost.map((one) => numbers.get(one)).join(' ')).values(),
  ];
  for (const cause of byLabel(
    causes.map((one) => byLabel(one, rankLabel)),
    ([one]) => (one === undefined ? '' : rankLabel(one)),
  )) {
    const [first] = cause;
    const elements = cause.map(({ element }) => element);
    const [at, ...others] = elements.flatMap((one) => elementMarks(plan, one));
    if (first !== undefined && at !== undefined) yield elementFinding(plan, first, elements, at, others);
  }
}

/** Switches before links, links before risks and feeds. */
function rankLabel({ element }: Fate): string {
  return `${KINDS.indexOf(element.kind)} ${elementSubject(element)}`;
}

const KINDS: readonly Element['kind'][] = ['switch', 'device', 'link', 'risk', 'power feed', 'interface'];

function elementFinding(
  plan: Plan,
  { element, lost }: Fate,
  elements: readonly Element[],
  at: Mark,
  others: readonly Mark[],
): WordedDraft {
  const streams = byLabel(streamsOf(lost), ({ label }) => label);
  const names = streams.map(({ label }) => label);
  const takers = byLabel([...new Set(lost.map(({ receiver }) => receiver.label))], (name) => name);
  const legs = streams
    .slice(0, MOST_MARKS)
    .flatMap((sender) => sender.legs.map((leg) => mark(leg, `${sender.label} leg ${leg.index + 1}`, 'interface')));
  return {
    subject: elementSubject(element),
    parties: [...elements.map(elementLabel), ...names],
    what: `both legs of ${listNames(names, 5)} depend on ${listNames(elements.map(elementLabel), 5)} on the way to ${listNames(takers, 5)}`,
    at,
    others: otherPlaces(at, [...others, ...legs]),
    onAir: `nothing until ${elements.length === 1 ? elementLabel(element) : 'one of them'} fails; then ${nothingOf(streams)} of ${names.length === 1 ? 'this stream' : `these ${names.length} streams`} arrives, in spite of two legs`,
    fix: fixWords(element, listNames(elements.map(elementLabel), 5)),
    touch: elementTouch(plan, element),
  };
}

const MOST_MARKS = 10;

function fixWords({ kind, name }: Element, all: string): string {
  switch (kind) {
    case 'risk':
      return `run the cables of one network another way than through ${name}`;
    case 'power feed':
      return `put the switches of one network on another feed than ${name}, or give them a second one`;
    case 'device':
      return `route the second legs by another router than ${name}`;
    case 'switch':
    case 'link':
    case 'interface':
      return `patch and carry one leg of each by switches and links of the other network, past ${all}`;
  }
}
