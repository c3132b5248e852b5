import {
  byLabel,
  clause,
  commonPractice,
  defineRule,
  mark,
  shareWords,
  tableUses,
  type TableUse,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'capacity/group-table-overflow',
  summary: 'A switch must hold more groups than its table has room for',
  severity: 'error',
  sources: [
    clause('RFC 4541', '2.1.2'),
    commonPractice('switches make an entry for every group joined through them, many also for streams that only pass'),
  ],
  needs: ['groups', 'switchPorts', 'groupTables'],
  thresholds: { percent: { default: 80, what: 'share of a group table that may be used, in percent' } },
  *check({ plan, model, threshold }) {
    const percent = threshold('percent');
    const full = tableUses(plan, model.network).filter(({ all, size }) => all * 100 > size * percent);
    for (const use of byLabel(full, (one) => one.switch.name)) {
      const { switch: one, size, key, joined } = use;
      const certain = joined > size && key !== undefined;
      yield {
        subject: one.name,
        parties: [one.name],
        severity: certain ? 'error' : 'warning',
        what: whatWords(use, percent),
        at: mark(one, `${one.name}: ${size} entries`, 'groupTableSize'),
        others: [
          ...(one.snoopingKey === undefined
            ? []
            : [mark(one, `${one.name}: keyed by ${one.snoopingKey}`, 'snoopingKey')]),
          ...(one.tableFull === undefined ? [] : [mark(one, `${one.name}: when full, ${one.tableFull}`, 'tableFull')]),
        ],
        onAir: onAir(use),
        fix: `keep to ${Math.floor((size * percent) / 100)} entries, ${percent} % of ${size}, so that the rest stays free for clocks and discovery: split the VLANs so that fewer groups are joined through ${one.name}, join fewer, or use a switch with a larger table`,
        touch: { kind: 'switch', name: one.name },
      };
    }
  },
});

function whatWords({ switch: one, size, key, joined, all }: TableUse, percent: number): string {
  const passing =
    all > joined ? `, or ${all} if streams that only pass on their way to the querier take an entry too` : '';
  const assumed = key === undefined ? ' (counted by group, as the plan does not say how it keys its table)' : '';
  return `${one.name} has room for ${size} ${entryWords(key)}, of which ${100 - percent} % are to stay free, and must hold ${joined}${passing}, ${shareWords(all, size)}${assumed}`;
}

function entryWords(key: TableUse['key']): string {
  return key === 'mac'
    ? 'multicast Ethernet addresses'
    : key === 'source-group'
      ? 'pairs of source and group'
      : 'groups';
}

function onAir({ switch: one, all, size }: TableUse): string {
  const when = all > size ? 'when the last devices are switched on' : 'when a few more streams are joined';
  switch (one.tableFull) {
    case 'flood':
      return `${when}, the switch floods what no longer fits to every port: slow ports are swamped, far from the stream that was one too many`;
    case 'drop':
      return `${when}, the switch drops what no longer fits: the next receiver to join gets nothing, whichever that is, and changes with every restart`;
    case undefined:
      return `${when}, the next streams are flooded to every port or reach nobody, whichever the switch does (\`tableFull\` is not stated)`;
  }
}
