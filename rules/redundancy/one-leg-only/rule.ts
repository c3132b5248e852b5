import {
  byLabel,
  clause,
  commonPractice,
  defineRule,
  groupBy,
  inRig,
  kindThatWrites,
  listNames,
  mark,
  otherPlaces,
  pairedNetworks,
  touchOf,
  touchOfKind,
  type Essence,
  type WordedDraft,
  type Interface,
  type Kind,
  type Mark,
  type Network,
  type Plan,
  type Rig,
  type Sender,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'redundancy/one-leg-only',
  summary: 'A stream has one leg where its like have two',
  severity: 'warning',
  sources: [clause('ST 2022-7', '6'), commonPractice('all streams of one sort are protected alike')],
  needs: ['pairs', 'devices'],
  thresholds: {
    percent: {
      default: 80,
      what: "share of a rig's streams of one essence with two legs, in percent, from which the others count as forgotten",
    },
  },
  *check({ plan, threshold }) {
    const single = plan.senders.filter(({ device, legs }) => device !== undefined && legs.length === 1);
    if (single.length === 0) return;
    const peers = countPeers(plan);
    const rigs = countEssences(plan);
    const paired = pairedNetworks(plan);
    const forgotten = single.flatMap((sender): Forgotten[] => {
      const spare = spareInterface(sender, paired);
      const like = sender.device?.kind === undefined ? undefined : peers.get(sender.device.kind)?.get(sender.name);
      if (like !== undefined && like.two > like.one)
        return [
          {
            sender,
            spare,
            why: `${like.two} of the ${like.one + like.two} ${sender.name} streams of kind ${sender.device?.kind?.name ?? ''} have two`,
          },
        ];
      const essence = sender.essence === undefined ? undefined : rigs.get(sender.rig)?.get(sender.essence);
      if (essence === undefined || spare === undefined || essence.one + essence.two < FEW_STREAMS) return [];
      const share = (essence.two / (essence.one + essence.two)) * 100;
      return share < threshold('percent')
        ? []
        : [
            {
              sender,
              spare,
              why: `${essence.two} of the ${essence.one + essence.two} ${sender.essence ?? ''} streams of the rig have two`,
            },
          ];
    });
    for (const [cause, list] of byLabel([...groupBy(forgotten, causeOf)], ([key]) => key)) {
      const [first, ...others] = byLabel(list, ({ sender }) => sender.label);
      if (first !== undefined) yield finding(cause, [first, ...others]);
    }
  },
});

/** So few streams tell nothing about what a rig does. */
const FEW_STREAMS = 5;

interface Forgotten {
  readonly sender: Sender;
  /** Where a second leg could go. */
  readonly spare: Interface | undefined;
  readonly why: string;
}

interface Count {
  one: number;
  two: number;
}

function countPeers({ senders }: Plan): ReadonlyMap<Kind, ReadonlyMap<string, Count>> {
  const found = new Map<Kind, Map<string, Count>>();
  for (const { device, name, legs } of senders)
    if (device?.kind !== undefined) count(found, device.kind, name, legs.length);
  return found;
}

function countEssences({ senders }: Plan): ReadonlyMap<Rig, ReadonlyMap<Essence, Count>> {
  const found = new Map<Rig, Map<Essence, Count>>();
  for (const { rig, essence, legs } of senders) if (essence !== undefined) count(found, rig, essence, legs.length);
  return found;
}

function count<K, L>(found: Map<K, Map<L, Count>>, outer: K, inner: L, legs: number): void {
  let counts = found.get(outer);
  if (counts === undefined) found.set(outer, (counts = new Map<L, Count>()));
  let one = counts.get(inner);
  if (one === undefined) counts.set(inner, (one = { one: 0, two: 0 }));
  if (legs === 1) one.one++;
  else if (legs > 1) one.two++;
}

/** An interface of the device on a network that carries second legs of this one's streams. */
function spareInterface(
  { device, legs: [leg] }: Sender,
  paired: ReadonlyMap<Network, ReadonlySet<Network>>,
): Interface | undefined {
  const others = leg?.network === undefined ? undefined : paired.get(leg.network);
  return others === undefined
    ? undefined
    : device?.interfaces.find(({ network }) => network !== undefined && others.has(network));
}

function causeOf({ sender }: Forgotten): string {
  const kind = kindOfFault(sender);
  return `${kind === undefined ? (sender.device?.name ?? '') : `kind ${kind.name}`}${inRig(sender.rig)}`;
}

/** The kind that writes the one leg for all its devices; undefined where the device's own entry does. */
function kindOfFault({ device, legs: [leg] }: Sender): Kind | undefined {
  return leg === undefined ? undefined : kindThatWrites(leg, device, 'interface');
}

/** Where the one leg is written: in the kind, or as the list of the sender itself. */
function markOf({ sender }: Forgotten): Mark {
  const [leg] = sender.legs;
  const label = `${sender.label}: one leg`;
  return leg === undefined || kindOfFault(sender) === undefined
    ? mark(sender, label, 'legs')
    : mark(leg, label, 'interface');
}

function finding(cause: string, list: readonly [Forgotten, ...Forgotten[]]): WordedDraft {
  const [first] = list;
  const kind = kindOfFault(first.sender);
  const names = list.map(({ sender }) => sender.label);
  const spares = byLabel([...new Set(list.flatMap(({ spare }) => spare?.name ?? []))], (name) => name);
  const reasons = byLabel([...new Set(list.map(({ why }) => why))], (why) => why);
  const at = markOf(first);
  return {
    subject: kind === undefined && list.length === 1 ? `${first.sender.label}${inRig(first.sender.rig)}` : cause,
    parties: names,
    what: `${listNames(names)} ${names.length === 1 ? 'has' : 'have'} one leg, while ${listNames(reasons, 3)}`,
    at,
    others: otherPlaces(at, list.slice(1).map(markOf)),
    onAir: `the first cable, switch or feed that fails on its way takes ${names.length === 1 ? 'this stream' : 'these streams'} off air, and only ${names.length === 1 ? 'this one' : 'these'}: everybody takes it for protected like the rest`,
    fix:
      spares.length === 0
        ? 'add a second leg on an interface in the other network, or accept it with a waiver'
        : `add a second leg on ${listNames(spares)}, or accept it with a waiver`,
    touch: kind === undefined ? touchOf(first.sender) : touchOfKind(kind),
  };
}
