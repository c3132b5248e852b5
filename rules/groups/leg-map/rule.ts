import {
  certainly,
  createEditList,
  type EditList,
  type Cure,
  regroup,
  ofMapEntry,
  peopleDecide,
  listenersOf,
} from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  commonPractice,
  defineRule,
  formatAddress,
  groupBy,
  inRig,
  isSentByRtp,
  kindThatWrites,
  legLabel,
  mark,
  noted,
  touchOf,
  touchOfKind,
  type Address,
  type FindingDraft,
  type Kind,
  type Leg,
  type Model,
  type NonEmpty,
  type WrongEntry,
} from '../../../src/doors/rule.js';
import {
  brokenLegMap,
  type BrokenLegMap,
  groupFitness,
  sendersClash,
  wrongGroupEntries,
} from '../../../src/doors/groups.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts, string>({
  id: 'groups/leg-map',
  summary: "The second leg's numbers do not follow from the first's as the conventions promise",
  severity: 'warning',
  sources: [
    clause('RFC 7198', '5'),
    commonPractice("the second leg keeps the first leg's last numbers in a block of its own, and its port"),
  ],
  needs: ['groups', 'pairs', 'conventionLegMap'],
  brief: 'second leg off the map',
  harm: 'later',
  *check({ model, plan }) {
    const offPort = new Set<Leg | undefined>(model.unusualLegs.offPort.filter((leg) => !isOddAlone(leg)));
    const all = plan.senders.flatMap((sender) => brokenLegMap(sender, offPort.has(sender.legs[1])) ?? []);
    const entries = wrongGroupEntries(plan, all);
    for (const one of entries) yield entryFinding(one);
    const byEntry = new Set(entries.flatMap(({ broken }) => broken));
    const byKind = new Set<BrokenLegMap>();
    for (const same of portsOfKinds(all)) {
      for (const one of same.broken) byKind.add(one);
      yield kindFinding(model, same);
    }
    for (const broken of all) {
      const { first, second, group } = broken;
      const port = byKind.has(broken) ? undefined : broken.port;
      const judged = group !== undefined && !byEntry.has(broken) && isJudged(model, first, second);
      if (!judged && port === undefined) continue;
      const wanted = judged ? wantedGroup(group, second, model) : undefined;
      yield { ...finding(first, second, wanted, port), cure: () => cure(model, second, wanted, port) };
    }
  },
  words,
});

/** No stream keeps an entry of the map, and all agree on another one. */
function entryFinding({ entry, side, should, broken }: WrongEntry<BrokenLegMap>): FindingDraft<Facts, string> {
  const sorted = byLabel(broken, ({ second }) => second.sender.label);
  const [{ first, second, group }] = sorted;
  const { label, written, cure } = ofMapEntry({ entry, side, should });
  return {
    subject: `${label}${inRig(first.sender.rig)}`,
    parties: sorted.map((one) => one.second.sender.label),
    confidence: 'likely',
    cure,
    facts: {
      first,
      second,
      senders: sorted.map((one) => one.second.sender.label),
      groups: [formatAddress(first.group ?? 0), formatAddress(second.group ?? 0)],
      ports: [undefined, undefined],
      group: group === undefined ? undefined : { wanted: formatAddress(group), taken: undefined },
      port: undefined,
      entry: written,
    },
    at: noted(mark(entry, label, side), written[side]),
    touch: { kind: 'plan', name: 'conventions' },
  };
}

/** Streams of one name whose kind states the ports of both legs, and so the fault for all its devices. */
interface PortOfKind {
  readonly kind: Kind;
  readonly broken: NonEmpty<BrokenLegMap>;
}

function portsOfKinds(all: readonly BrokenLegMap[]): readonly PortOfKind[] {
  const kinds = new Map<BrokenLegMap, Kind>();
  for (const one of all) {
    const { first, second, port } = one;
    const { device } = second.sender;
    const kind = port === undefined ? undefined : kindThatWrites(second, device, 'port');
    if (kind !== undefined && kindThatWrites(first, device, 'port') === kind) kinds.set(one, kind);
  }
  const places = groupBy(kinds.keys(), ({ second }) => mark(second, '', 'port').place.container);
  return [...places.values()].flatMap((broken) => {
    const kind = kinds.get(broken[0]);
    return kind === undefined || broken.length < 2 ? [] : [{ kind, broken }];
  });
}

function kindFinding(model: Model, { kind, broken }: PortOfKind): FindingDraft<Facts, string> {
  const sorted = byLabel(broken, ({ second }) => second.sender.label);
  const [{ first, second, port }] = sorted;
  const label = `kind ${kind.name}/${second.sender.name}`;
  return {
    subject: `${label}${inRig(kind.rig)}`,
    parties: sorted.map((one) => one.second.sender.label),
    cure: () => {
      if (port === undefined || port % 2 === 1) return peopleDecide(ODD_OFFSET);
      const edits = createEditList();
      for (const one of sorted) setPort(model, edits, one.second, port);
      return certainly(edits);
    },
    facts: {
      first,
      second,
      senders: sorted.map((one) => one.second.sender.label),
      groups: undefined,
      ports: [first.port, second.port],
      group: undefined,
      port,
      entry: undefined,
    },
    at: noted(mark(second, `${label} leg 2`, 'port'), `port ${String(second.port)}`),
    others: [noted(mark(first, `${label} leg 1`, 'port'), `port ${String(first.port)}`)],
    touch: touchOfKind(kind),
  };
}

/** One leg of two goes to an odd port: `streams/odd-port` says that. */
function isOddAlone({ sender }: Leg): boolean {
  const [first, second] = sender.legs;
  if (first?.port === undefined || second?.port === undefined || isSentByRtp(second) === false) return false;
  return (sender.rig.conventions.portOffset ?? 0) % 2 === 0 && first.port % 2 !== second.port % 2;
}

/** A group that is misplaced, outside the conventions' ranges or in another stream's way has a finding of its own. */
function isJudged({ domains, groups, strays }: Model, first: Leg, second: Leg): boolean {
  const { conventions, practice } = first.sender.rig;
  if (first.group === second.group && domains.reach(first) === domains.reach(second)) return false;
  return [first, second].every((leg) => {
    if (leg.group === undefined || strays.byGroup(leg) || groupFitness(leg.group, conventions, practice) !== 'usable')
      return false;
    const use = groups.find(domains.reach(leg), leg.group);
    return use === undefined || !sendersClash(use);
  });
}

function wantedGroup(wanted: Address, second: Leg, model: Model): NonNullable<Facts['group']> {
  const group = formatAddress(wanted);
  if (model.proposals.claim(wanted, second)) return { wanted: group, taken: undefined };
  if (isFreeBySource(wanted, second, model)) return { wanted: group, taken: undefined };
  const users = model.groups.usesOf(wanted).flatMap(({ legs }) => legs);
  const [user] = byLabel(users, legLabel);
  return { wanted: group, taken: user === undefined ? 'outside-ranges' : { by: user } };
}

/** Whether others send the group here and the leg's source would tell it apart from them, in ranges they fit. */
function isFreeBySource(group: Address, second: Leg, { domains, groups, strays }: Model): boolean {
  const use = groups.find(domains.reach(second), group);
  if (use === undefined || use.legs.some((leg) => leg.sender === second.sender || strays.has(leg))) return false;
  return !sendersClash({ ...use, legs: [...use.legs, second] });
}

function finding(
  first: Leg,
  second: Leg,
  group: Facts['group'],
  port: number | undefined,
): FindingDraft<Facts, string> {
  const { sender } = second;
  const key = group === undefined ? 'port' : 'group';
  const says = (leg: Leg): string => (key === 'port' ? `port ${String(leg.port)}` : formatAddress(leg.group ?? 0));
  return {
    subject: `${sender.label}${inRig(sender.rig)}`,
    parties: [legLabel(first), legLabel(second)],
    facts: {
      first,
      second,
      senders: [sender.label],
      groups: [formatAddress(first.group ?? 0), formatAddress(second.group ?? 0)],
      ports: [first.port, second.port],
      group,
      port,
      entry: undefined,
    },
    at: noted(mark(second, legLabel(second), key), says(second)),
    others: [noted(mark(first, legLabel(first), key), says(first))],
    touch: touchOf(sender),
  };
}

const ODD_OFFSET = 'which offset the conventions mean: RTP goes to even ports';

/** The port of a leg, and of whoever states it to listen there. */
function setPort(model: Model, edits: EditList, leg: Leg, port: number): void {
  edits.setWhereWritten(leg, 'port', port);
  for (const taker of listenersOf(model, leg))
    if (taker.port !== undefined && taker.port !== port) edits.setWhereWritten(taker, 'port', port);
}

/** The second leg follows the first; where what the conventions map it to is not free, both move. */
function cure(model: Model, second: Leg, group: Facts['group'], port: number | undefined): Cure {
  const edits = createEditList();
  if (port !== undefined && port % 2 === 1) return peopleDecide(ODD_OFFSET);
  if (port !== undefined) setPort(model, edits, second, port);
  if (group === undefined) return certainly(edits);
  const moved =
    group.taken === undefined
      ? regroup(model, [second], { offered: [{ leg: second, group: group.wanted }] })
      : regroup(model, second.sender.legs);
  if (moved.certainty === 'people') return moved;
  for (const edit of moved.edits) edits.put(edit, edit.value);
  return certainly(edits);
}
