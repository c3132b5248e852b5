import {
  createEditList,
  likely,
  ofMapEntry,
  peopleDecide,
  readdress,
  type Cure,
  mayHave,
} from '../../../src/doors/cures.js';
import {
  byLabel,
  commonPractice,
  defineRule,
  formatAddress,
  groupBy,
  inPrefix,
  inRig,
  isIPv4,
  isNonEmpty,
  legLabel,
  mark,
  noted,
  ownerLabel,
  sourceMark,
  subnetFor,
  touchOf,
  touchOfKind,
  type FindingDraft,
  type Kind,
  type Leg,
  type Mark,
  type Model,
  type NonEmpty,
  addressClashes,
  imageOf,
  type WrongEntry,
} from '../../../src/doors/rule.js';
import {
  brokenPair,
  firstOfEach,
  kindsThatBreakPairs,
  sourceFault,
  type BrokenPair,
  wrongSourceEntries,
} from '../../../src/doors/sources.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'sources/leg-map',
  summary: 'The second leg does not leave from the address the conventions derive from the first leg',
  severity: 'warning',
  sources: [commonPractice('the same host number on both sides, red and blue')],
  needs: ['conventionLegMap', 'pairs', 'sources'],
  brief: 'second source off the map',
  harm: 'later',
  *check({ plan, model }) {
    const broken = plan.senders.flatMap((sender) => brokenPair(sender) ?? []);
    const clashes = broken.length === 0 ? new Set() : clashing(model);
    const entries = wrongSourceEntries(
      plan,
      broken.filter(({ one, two }) => ![one, two].some((leg) => hasOwnFault(leg, clashes))),
    );
    for (const one of entries) yield entryFinding(one);
    const ofEntries = new Set(entries.flatMap((one) => one.broken));
    const left = broken.filter((pair) => !ofEntries.has(pair) && !pair.sender.legs.some(model.strays.meant));
    const kinds = kindsThatBreakPairs(plan, left);
    for (const [kind, all] of kinds) {
      // `groups/outside-conventions` reports a kind whose legs are on the wrong network by their groups.
      const isStray = model.strays.kinds.some((stray) => stray.kind === kind);
      const pairs = isStray ? all.filter(({ sender }) => !sender.legs.some((leg) => model.strays.has(leg))) : all;
      if (isNonEmpty(pairs)) yield kindFinding(kind, pairs);
    }
    const ofKinds = new Set([...kinds.values()].flat());
    const single = left.filter((pair) => !ofKinds.has(pair));
    // One wrong interface address shows in every stream of the device.
    for (const same of groupBy(single, ({ first, second }) => `${first} ${second}`).values()) {
      const pairs = byLabel(same, ({ sender }) => sender.label);
      if (![pairs[0].one, pairs[0].two].some((leg) => hasOwnFault(leg, clashes))) yield pairFinding(pairs, model);
    }
  },
  words,
});

/** No stream keeps an entry of the map, and all agree on another one. */
function entryFinding({ entry, side, should, broken }: WrongEntry<BrokenPair>): FindingDraft<Facts, Note> {
  const streams = byLabel(broken, ({ sender }) => sender.label);
  const { label, written, cure } = ofMapEntry({ entry, side, should });
  return {
    subject: `${label}${inRig(streams[0].sender.rig)}`,
    parties: streams.map(({ sender }) => sender.label),
    confidence: 'likely',
    cure,
    facts: {
      form: 'entry',
      senders: streams.map(({ sender }) => sender),
      ...written,
    },
    at: noted(mark(entry, label, side), { maps: written[side] }),
    touch: { kind: 'plan', name: 'conventions' },
  };
}

function pairFinding(pairs: NonEmpty<BrokenPair>, model: Model): FindingDraft<Facts, Note> {
  const [{ sender, one, two, wanted, wantedFirst, ...pair }] = pairs;
  const first = formatAddress(pair.first);
  const second = formatAddress(pair.second);
  const atFirst = noted(sourceMark(one, legLabel(one)), { leaves: first });
  const atSecond = noted(sourceMark(two, legLabel(two)), { leaves: second });
  const advised = wanted ?? wantedFirst;
  const [owner] = advised === undefined ? [] : byLabel(model.owners.byAddress.get(advised) ?? [], ownerLabel);
  return {
    subject: `${first} ${second}`,
    parties: pairs.map((own) => own.sender.label),
    cure: () => pairCure(pairs[0], model),
    facts: {
      form: 'pair',
      senders: pairs.map((own) => own.sender),
      first,
      second,
      wanted: wanted === undefined ? undefined : formatAddress(wanted),
      wantedFirst: wantedFirst === undefined ? undefined : formatAddress(wantedFirst),
      takenBy: owner === undefined ? undefined : ownerLabel(owner),
    },
    at: wanted === undefined ? atFirst : atSecond,
    others: [wanted === undefined ? atSecond : atFirst],
    touch: touchOf(sender),
  };
}

function kindFinding(kind: Kind, pairs: NonEmpty<BrokenPair>): FindingDraft<Facts, Note> {
  const sorted = byLabel(pairs, ({ sender }) => sender.label);
  const [{ sender, first, second }] = sorted;
  const streams = byLabel(
    firstOfEach(sorted, (pair) => pair.sender.name),
    (pair) => pair.sender.name,
  );
  const [{ one, two }, ...further] = streams;
  const others = [one, ...further.flatMap((pair) => [pair.two, pair.one])];
  return {
    subject: `kind ${kind.name}${inRig(kind.rig)}`,
    parties: sorted.map((pair) => pair.sender.label),
    cure: () => {
      const edits = createEditList();
      for (const { one: a, two: b } of streams) {
        const [left, right] = [a.interface, b.interface];
        if (left === undefined || right === undefined) return peopleDecide('which interface each leg leaves by');
        if (left !== right) {
          const [from, to] = [right.address, left.address];
          const fits =
            from !== undefined && to !== undefined && imageOf(from, a.sender.rig.conventions.sourceMap) === to;
          if (!fits) return peopleDecide('which interface each leg leaves by');
          edits.setWhereWritten(a, 'interface', right.name);
          edits.setWhereWritten(b, 'interface', left.name);
          continue;
        }
        // Both leave by one: the second is to leave by the interface whose address follows from it.
        const map = a.sender.rig.conventions.sourceMap;
        const wanted = left.address === undefined ? undefined : imageOf(left.address, map);
        const other = left.device.interfaces.find(({ address }) => address !== undefined && address === wanted);
        if (other === undefined) return peopleDecide('which interface each leg leaves by');
        edits.setWhereWritten(b, 'interface', other.name);
      }
      return likely(edits);
    },
    facts: {
      form: 'kind',
      kind,
      streams: streams.map((pair) => ({
        name: pair.sender.name,
        interfaces: [pair.one.interface?.name ?? '', pair.two.interface?.name ?? ''],
      })),
      devices: [...new Set(sorted.map((pair) => pair.sender.device?.name ?? pair.sender.label))],
      sender,
      first: formatAddress(first),
      second: formatAddress(second),
    },
    at: kindMark(kind, two),
    others: others.map((leg) => kindMark(kind, leg)),
    touch: touchOfKind(kind),
  };
}

function kindMark(kind: Kind, leg: Leg): Mark<Note> {
  return noted(mark(leg, `kind ${kind.name}`, 'interface'), {
    stream: leg.sender.name,
    leg: leg.index + 1,
    interface: leg.interface?.name ?? '',
  });
}

/**
 * Held twice, outside its subnet, no address of a host, or not that of the interface: `hosts/duplicate-address`,
 * `hosts/outside-subnet`, `hosts/network-or-broadcast`, `sources/not-unicast` or `sources/not-the-sender` says so.
 */
function hasOwnFault(leg: Leg, clashes: ReadonlySet<unknown>): boolean {
  const { interface: via, source, sourceStated, vlan } = leg;
  if (source === undefined) return false;
  if (sourceFault(source, vlan) !== undefined || (via !== undefined && clashes.has(via))) return true;
  const subnet = vlan === undefined ? undefined : subnetFor(vlan, source);
  if (subnet !== undefined && !inPrefix(source, subnet)) return true;
  const own = via === undefined ? undefined : isIPv4(source) ? via.address : via.address6;
  return sourceStated && own !== undefined && own !== source;
}

/** Who has an address that is another's too, where the two meet: elsewhere nobody says so. */
function clashing(model: Model): ReadonlySet<unknown> {
  return new Set(addressClashes(model).flatMap(({ owners }) => owners));
}

/** The leg whose address does not follow from the other's gets the one that does: the second, if it may have it. */
function pairCure({ one, two, first, second, wanted, wantedFirst }: BrokenPair, model: Model): Cure {
  for (const { leg, address, to } of [
    { leg: two, address: second, to: wanted },
    { leg: one, address: first, to: wantedFirst },
  ]) {
    const via = leg.interface;
    if (to === undefined || via === undefined || !mayHave(model, via, to)) continue;
    if (!leg.sourceStated) return readdress(model, [{ owner: via, address, offered: formatAddress(to) }], 'likely');
  }
  return peopleDecide('which of the two addresses is wrong');
}
