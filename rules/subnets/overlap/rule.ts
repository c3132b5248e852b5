import { createEditList, likely, peopleDecide, moveBlocks, type Cure } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  commonPractice,
  defineRule,
  formatPrefix,
  inRig,
  mark,
  noted,
  vlanSubject,
  withRig,
  type FindingDraft,
  type Mark,
  type NonEmpty,
  type Prefix,
  formatAddress,
  inPrefix,
  type Model,
  createFreeBlocks,
  overlaps,
} from '../../../src/doors/rule.js';
import { overlapsOf, subnetEntries, type SubnetEntry } from '../../../src/doors/subnets.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'subnets/overlap',
  summary: 'Subnets of two VLANs overlap',
  severity: 'error',
  sources: [
    clause('RFC 4632', '5.1'),
    clause('RFC 1122', '3.3.1.1'),
    commonPractice('no two subnets of one rig overlap'),
  ],
  needs: ['subnets'],
  brief: 'subnets overlap',
  harm: 'unicast',
  *check({ plan, model }) {
    for (const all of [subnetEntries(plan, 'number'), subnetEntries(plan, 'bigint')]) {
      const overlaps = overlapsOf(all, plan, model.unicastReach);
      if (overlaps.length === 0) continue;
      const nextFree = createFreeBlocks(all.map(({ subnet }) => subnet));
      for (const { entries, meets } of overlaps) {
        const sorted = byLabel(entries, ({ vlan, subnet }) => `${vlanSubject(vlan)} ${formatPrefix(subnet)}`);
        const narrowest = sorted.reduce((a, b) => (b.subnet.length > a.subnet.length ? b : a));
        // Asked for even where the advice is another, so that what is offered next does not depend on it.
        const free = nextFree(narrowest.subnet);
        yield isOneVlan(entries) ? oneVlan(sorted, model) : severalVlans(sorted, narrowest, meets, free, model);
      }
    }
  },
  words,
});

function severalVlans(
  sorted: NonEmpty<SubnetEntry>,
  narrowest: SubnetEntry,
  meets: boolean,
  free: Prefix | undefined,
  model: Model,
): FindingDraft<Facts, Note> {
  return {
    subject: subjectOf(sorted),
    parties: sorted.map(({ vlan }) => vlan.name),
    severity: meets ? 'error' : 'warning',
    cure: () => cure(model, sorted, narrowest, free),
    facts: {
      form: 'several-vlans',
      subnets: sorted.map(({ vlan, subnet }) => ({ vlan: vlan.name, subnet: formatPrefix(subnet) })),
      meets,
      move: narrowest.vlan,
      free: free === undefined ? undefined : formatPrefix(free),
    },
    at: noted(mark(narrowest.vlan, `VLAN ${narrowest.vlan.name}`, narrowest.key), { says: 'move' }),
    others: sorted.filter((entry) => entry !== narrowest).map((entry) => subnetMark(entry, entry.vlan.name)),
    touch: { kind: 'vlan', name: narrowest.vlan.name },
  };
}

/** Entries of several rigs that a join makes one VLAN. */
function isOneVlan([first, ...rest]: NonEmpty<SubnetEntry>): boolean {
  const { joinedAs } = first.vlan;
  return joinedAs !== undefined && rest.every(({ vlan }) => vlan.joinedAs === joinedAs);
}

function oneVlan(sorted: NonEmpty<SubnetEntry>, { addressing }: Model): FindingDraft<Facts, Note> {
  const widest = sorted.reduce((a, b) => (b.subnet.length < a.subnet.length ? b : a));
  const changed = sorted.filter(({ subnet }) => subnet.length !== widest.subnet.length);
  const at = changed[0] ?? widest;
  return {
    subject: subjectOf(sorted),
    parties: sorted.map(({ vlan }) => withRig(vlan)),
    cure: () => {
      const edits = createEditList();
      for (const { vlan, subnet, key } of changed) {
        edits.set(vlan, key, formatPrefix(widest.subnet));
        for (const held of addressing.byVlan.get(vlan) ?? [])
          if (held.prefixLength === subnet.length && inPrefix(held.address, subnet))
            edits.set(held.owner, held.key, `${formatAddress(held.address)}/${widest.subnet.length}`);
      }
      return likely(edits, 'which rig takes the subnet of the other');
    },
    facts: {
      form: 'one-vlan',
      subnets: sorted.map(({ vlan, subnet }) => ({ vlan: withRig(vlan), subnet: formatPrefix(subnet) })),
      widest: formatPrefix(widest.subnet),
      change: changed.map(({ vlan }) => withRig(vlan)),
    },
    at: subnetMark(at, withRig(at.vlan)),
    others: sorted.filter((entry) => entry !== at).map((entry) => subnetMark(entry, withRig(entry.vlan))),
    touch: { kind: 'vlan', name: at.vlan.name },
  };
}

function subnetMark({ vlan, subnet, key }: SubnetEntry, name: string): Mark<Note> {
  return noted(mark(vlan, `VLAN ${name}`, key), { says: 'subnet', subnet: formatPrefix(subnet) });
}

function subjectOf(sorted: NonEmpty<SubnetEntry>): string {
  const [first] = sorted;
  const oneRig = sorted.every(({ vlan }) => vlan.rig === first.vlan.rig);
  const names = sorted.map(({ vlan }) => (oneRig ? vlan.name : vlanSubject(vlan))).join(', ');
  return `${names}${oneRig ? inRig(first.vlan.rig) : ''}${typeof first.subnet.network === 'bigint' ? ', IPv6' : ''}`;
}

/** A VLAN whose boxes agree on another subnet takes that; else the narrowest moves, with all that is in it. */
function cure(model: Model, sorted: NonEmpty<SubnetEntry>, narrowest: SubnetEntry, free: Prefix | undefined): Cure {
  const edits = createEditList();
  const doubted = sorted.filter(({ subnet }) => model.addressing.fits.get(subnet)?.outvotedBy !== undefined);
  for (const { vlan, subnet, key } of doubted) {
    const wanted = model.addressing.fits.get(subnet)?.outvotedBy?.prefix;
    const taken = model.plan.vlans.some((one) =>
      [one.subnet, one.subnet6].some(
        (other) => other !== undefined && wanted !== undefined && one !== vlan && overlaps(other, wanted),
      ),
    );
    if (wanted === undefined || taken) return peopleDecide('which block each of the VLANs has');
    edits.set(vlan, key, formatPrefix(wanted));
  }
  if (doubted.length > 0) return likely(edits);
  const { vlan, subnet } = narrowest;
  const map = vlan.rig.conventions.sourceMap;
  if (free === undefined) return peopleDecide('no block of this size is free');
  if (map.some(({ first, second }) => inPrefix(subnet.network, first) || inPrefix(subnet.network, second)))
    return peopleDecide('which blocks the two legs get, which the conventions derive from each other');
  return moveBlocks(model, [{ ...narrowest, to: free }], 'likely');
}
