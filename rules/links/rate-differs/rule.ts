import {
  commonPractice,
  defineRule,
  formatRate,
  isCircuit,
  knownEnds,
  linkEnds,
  linkLabel,
  mark,
  portLabel,
  type KnownEnd,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'links/rate-differs',
  summary: 'A link and its two ports have rates that do not fit',
  severity: 'warning',
  sources: [commonPractice('both ends of a cable run at one rate')],
  needs: ['links'],
  *check({ plan }) {
    for (const link of plan.links) {
      const ends = knownEnds(link);
      if (ends === undefined) continue;
      const [a, b] = ends;
      const unlike =
        a.port.rateBps !== undefined &&
        b.port.rateBps !== undefined &&
        a.port.rateBps !== b.port.rateBps &&
        !isCircuit(link);
      const slower = ends.filter(
        (end) => link.rateBps !== undefined && end.port.rateBps !== undefined && end.port.rateBps < link.rateBps,
      );
      if (!unlike && slower.length === 0) continue;
      const label = linkLabel(link);
      const stated = ends.filter((end) => end.port.rateBps !== undefined);
      const [slowest] = [...stated].sort((x, y) => (x.port.rateBps ?? 0) - (y.port.rateBps ?? 0));
      if (slowest === undefined) continue;
      // Ports that agree with each other, or one that agrees with the link, outvote the third.
      const agreed = !unlike && stated.length === 2 && a.port.rateBps === b.port.rateBps;
      const first =
        (unlike ? ends.find((end) => otherEnd(ends, end).port.rateBps === link.rateBps) : undefined) ?? slowest;
      const planned = mark(link, `link ${label}: ${formatRate(link.rateBps ?? 0)}`, 'rate');
      const ports = [first, ...stated.filter((end) => end !== first)].map(rateMark);
      const [portMark = planned, ...rest] = ports;
      yield {
        subject: linkEnds(link),
        parties: ends.map((end) => portLabel(end.port)),
        what: `link ${label}${link.rateBps === undefined || slower.length === 0 ? '' : `, planned for ${formatRate(link.rateBps)},`} has ${stated.map((end) => `${portLabel(end.port)} at ${formatRate(end.port.rateBps ?? 0)}`).join(' and ')}`,
        at: agreed ? planned : portMark,
        others: agreed ? ports : slower.length === 0 ? rest : [...rest, planned],
        onAir: unlike
          ? 'no link light where a port or its optic knows one rate only; else the link falls back to the lower rate and drops what does not fit'
          : 'the link carries less than planned: it drops packets of every stream on it as soon as it is as full as the plan allows',
        fix: unlike
          ? 'use ports and optics of one rate at both ends, and write that rate for the link'
          : `plan the link for ${formatRate(slowest.port.rateBps ?? 0)}, or use faster ports`,
        touch: { kind: 'link', name: label },
      };
    }
  },
});

function otherEnd([a, b]: readonly [KnownEnd, KnownEnd], end: KnownEnd): KnownEnd {
  return end === a ? b : a;
}

function rateMark(end: KnownEnd): ReturnType<typeof mark> {
  return mark(end.port, `${portLabel(end.port)}: ${formatRate(end.port.rateBps ?? 0)}`, 'rate');
}
