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
} from '../../../src/doors/rule.js';
import { createFreeBlocks, overlapsOf, subnetEntries, type SubnetEntry } from '../../../src/doors/subnets.js';
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
        yield isOneVlan(entries) ? oneVlan(sorted) : severalVlans(sorted, narrowest, meets, free);
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
): FindingDraft<Facts, Note> {
  return {
    subject: subjectOf(sorted),
    parties: sorted.map(({ vlan }) => vlan.name),
    severity: meets ? 'error' : 'warning',
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

function oneVlan(sorted: NonEmpty<SubnetEntry>): FindingDraft<Facts, Note> {
  const widest = sorted.reduce((a, b) => (b.subnet.length < a.subnet.length ? b : a));
  const changed = sorted.filter(({ subnet }) => subnet.length !== widest.subnet.length);
  const at = changed[0] ?? widest;
  return {
    subject: subjectOf(sorted),
    parties: sorted.map(({ vlan }) => withRig(vlan)),
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
