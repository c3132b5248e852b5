import {
  clause,
  clockMark,
  clockTouch,
  clocksByName,
  defineRule,
  groupBy,
  inRig,
  listNames,
  PTP_ADDRESSES,
  splitByTransport,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'timing/transport-mixed',
  summary: 'Clocks of one domain use different transports',
  severity: 'error',
  sources: [clause('IEEE 1588-2008', 'Annex D'), clause('SMPTE ST 2059-2', '6.11')],
  needs: ['clocks'],
  *check({ model: { timing } }) {
    for (const { led, cut } of splitByTransport(timing)) {
      for (const clocks of groupBy(clocksByName(cut), ({ transport }) => transport).values()) {
        const [first] = clocks;
        if (first === undefined) continue;
        const names = clocks.map(({ name }) => name);
        yield {
          subject: `${first.transport} in domain ${first.domain}${inRig(first.rig)}`,
          parties: names,
          what: `${listNames(names)} ${names.length === 1 ? 'speaks' : 'speak'} PTP over ${first.transport} (${PTP_ADDRESSES[first.transport].primary}), the grandmasters of domain ${first.domain} over ${led} (${PTP_ADDRESSES[led].primary})`,
          at: clockMark(first, first.transport, 'transport'),
          others: clocks.slice(1).map((one) => clockMark(one, one.transport, 'transport')),
          onAir:
            'they never hear the grandmaster and run on by themselves: pictures and sound of them drift from switch-on, and no box shows an alarm',
          fix: `set transport ${led} on ${listNames(names)}`,
          touch: clockTouch(first),
        };
      }
    }
  },
});
