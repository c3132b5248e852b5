import { createEditList, likely, peopleDecide, setClocks, type Cure } from '../../../src/doors/cures.js';
import {
  clauseFromMemory,
  commonPractice,
  defineRule,
  noted,
  type FindingDraft,
  type Mark,
  type Model,
} from '../../../src/doors/rule.js';
import { clockMark, clockSubject, clockTouch, type Barrier, type Clock } from '../../../src/doors/timing.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'timing/boundary-clock-blocks',
  summary: 'A boundary clock keeps the time of the grandmasters from clocks behind it',
  severity: 'error',
  sources: [
    clauseFromMemory('IEEE 1588-2008', '9.2.2'),
    clauseFromMemory('IEEE 1588-2008', '7.1'),
    clauseFromMemory('IEEE 1588-2019', '9.2.2.2'),
    commonPractice('a boundary clock keeps PTP of other domains from passing'),
  ],
  needs: ['clocks'],
  brief: 'boundary clock passes no time on',
  harm: 'spoils',
  *check({ model }) {
    for (const barrier of model.timing.barriers.found) {
      const severity = severityOf(barrier);
      if (severity === undefined) continue;
      const { form, behind } = barrier;
      const [first] = form === 'other domain' ? barrier.at : [barrier.at];
      const names = behind.map(({ name }) => name);
      const meant = meantBy(barrier);
      yield {
        subject: form === 'other domain' ? `domain ${behind[0].domain} at ${clockSubject(first)}` : clockSubject(first),
        parties: [...atOf(barrier), ...behind, ...meant].map(({ name }) => name),
        ...severity,
        cure: () => cure(model, barrier),
        facts: factsOf(barrier, names),
        at: marksOf(barrier)[0],
        others: [
          ...marksOf(barrier).slice(1),
          ...behind.slice(0, 6).map((one) => noted(clockMark(one), 'behind')),
          ...meant.map((one) => noted(clockMark(one), 'unheard')),
        ],
        touch: clockTouch(first),
      };
    }
  },
  words,
});

function atOf(barrier: Barrier): readonly Clock[] {
  return barrier.form === 'other domain' ? barrier.at : [barrier.at];
}

function meantBy(barrier: Barrier): readonly Clock[] {
  if (barrier.form === 'other domain') return barrier.meant;
  return barrier.form === 'leads only' ? [barrier.unheard] : [];
}

/** Undefined where nothing is wrong: a switch that states no mode and only follows may be no boundary clock. */
function severityOf(barrier: Barrier): Pick<FindingDraft, 'severity' | 'confidence'> | undefined {
  if (barrier.form === 'other domain') return { severity: 'error', confidence: 'likely' };
  const { at, behind } = barrier;
  const isAssumed = at.assumed.has('mode');
  if (barrier.form === 'follows only' && isAssumed && behind.length === 0) return undefined;
  const isFelt = behind.length > 0 || (barrier.form === 'leads only' && !barrier.instead.meantToLead);
  return { severity: isFelt ? 'error' : 'warning', confidence: isAssumed ? 'assumed' : 'certain' };
}

function factsOf(barrier: Barrier, behind: readonly string[]): Facts {
  const at = atOf(barrier).map(({ name }) => name);
  const [{ domain }] = atOf(barrier) as readonly [Clock];
  switch (barrier.form) {
    case 'follows only':
      return {
        form: barrier.form,
        at,
        domain,
        behind,
        isAssumed: barrier.at.assumed.has('mode'),
        abovePriority1:
          barrier.at.quality.priority1 > (barrier.abovePriority1 ?? -1) ? undefined : barrier.abovePriority1,
      };
    case 'leads only': {
      const { ports, unheard, instead } = barrier;
      const keeps = instead === barrier.at ? undefined : instead.name;
      return { form: barrier.form, at, domain, behind, ports, unheard: unheard.name, instead: keeps };
    }
    case 'other domain':
      return {
        form: barrier.form,
        at,
        domain,
        behind,
        lost: barrier.behind[0].domain,
        meant: barrier.meant.map(({ name }) => name),
      };
  }
}

function marksOf(barrier: Barrier): readonly [Mark<Note>, ...Mark<Note>[]] {
  switch (barrier.form) {
    case 'follows only':
      return [noted(clockMark(barrier.at, followsKey(barrier.at)), 'follows only')];
    case 'leads only':
      return [noted(clockMark(barrier.at, 'masterOnly'), 'leads only')];
    case 'other domain': {
      const [first, ...others] = barrier.at;
      const markOf = (one: Clock): Mark<Note> => noted(clockMark(one, 'domain'), { domain: one.domain });
      return [markOf(first), ...others.map(markOf)];
    }
  }
}

function followsKey({ settings }: Clock): 'slaveOnly' | 'clockClass' {
  return settings.slaveOnly === undefined ? 'clockClass' : 'slaveOnly';
}

function cure(model: Model, barrier: Barrier): Cure {
  const edits = createEditList();
  switch (barrier.form) {
    case 'follows only': {
      const { at, abovePriority1 = 0 } = barrier;
      const { slaveOnly, clockClass = 248 } = at.settings;
      setClocks(model, edits, [at], {
        ...(slaveOnly === undefined ? {} : { slaveOnly: false }),
        // Class 127 and below never follows, 255 only follows (IEEE 1588-2008 §9.2.2).
        ...(clockClass < 128 || clockClass === 255 ? { clockClass: 248 } : {}),
        ...(at.quality.priority1 > abovePriority1 ? {} : { priority1: Math.min(abovePriority1 + 1, 255) }),
      });
      return likely(edits);
    }
    case 'leads only': {
      const left = barrier.at.settings.masterOnly.filter((one) => !barrier.ports.includes(one));
      setClocks(model, edits, [barrier.at], { masterOnly: left });
      return likely(edits);
    }
    case 'other domain':
      return peopleDecide('whether the boundary clocks get this domain too, or the clocks behind them another one');
  }
}
