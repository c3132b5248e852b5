import { createEditList, likely, peopleDecide, setClocks, type Cure } from '../../../src/doors/cures.js';
import {
  clauseFromMemory,
  commonPractice,
  defineRule,
  inRig,
  mapAll,
  noted,
  type Model,
} from '../../../src/doors/rule.js';
import { clockMark, clockSubject, clockTouch, isEndDevice, ownTimes, type OwnTime } from '../../../src/doors/timing.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'timing/own-time',
  summary: 'Clocks keep a time of their own beside that of the grandmasters',
  severity: 'error',
  sources: [
    clauseFromMemory('IEEE 1588-2008', '9.3.3'),
    commonPractice('every clock of a rig follows one that the plan names'),
  ],
  needs: ['clocks', 'grandmasters'],
  brief: 'keeps its own time',
  harm: 'spoils',
  *check({ plan, model }) {
    for (const found of ownTimes(plan, model.timing, model.outOfReach)) {
      const { reason, own, followers, meant, isPlaced } = found;
      const [first, ...others] = own;
      const isWhole = reason === 'nobody meant' || reason === 'no port';
      const isSwitches = [...own, ...followers].every((one) => !isDevice(one));
      const isOpen = reason === 'open' || !isPlaced;
      yield {
        subject: isWhole ? `${reason} in domain ${first.domain}${inRig(first.rig)}` : clockSubject(first),
        parties: [...own, ...followers, ...meant].map(({ name }) => name),
        severity: isOpen ? 'note' : reason === 'nobody meant' || isSwitches ? 'warning' : 'error',
        confidence: isOpen ? 'assumed' : 'certain',
        cure: () => cure(model, found),
        facts: {
          reason,
          domain: first.domain,
          own: mapAll(own, ({ name }) => name),
          endDevices: own.filter(isEndDevice).map(({ name }) => name),
          followers: followers.map(({ name }) => name),
          meant: meant.map(({ name }) => name),
          clockClass: first.quality.clockClass,
          networks: first.planned?.networks?.map(({ name }) => name),
          isPlaced,
          isSwitches,
        },
        at: noted(clockMark(first, keyOf(found)), 'own time'),
        others: [
          ...others.map((one) => noted(clockMark(one, keyOf(found)), 'own time')),
          ...followers
            .filter((one) => !meant.includes(one))
            .slice(0, 6)
            .map((one) => clockMark(one)),
          ...meant.map((one) => noted(clockMark(one), 'meant')),
        ],
        touch: clockTouch(first),
      };
    }
  },
  words,
});

function isDevice({ owner }: OwnTime['own'][0]): boolean {
  return !('ports' in owner);
}

function keyOf({ reason, own: [{ settings }] }: OwnTime): string | undefined {
  if (reason === 'class') return 'clockClass';
  if (reason === 'no port') return 'interfaces' in settings ? 'interfaces' : undefined;
  return reason === 'outranks' && settings.priority1 !== undefined ? 'priority1' : undefined;
}

/** End devices only follow; a boundary clock comes behind all that are meant to lead. */
function cure(model: Model, { reason, own, meant, isPlaced }: OwnTime): Cure {
  if (!isPlaced) return peopleDecide('where these clocks stand');
  switch (reason) {
    case 'class':
    case 'outranks':
    case 'open': {
      const edits = createEditList();
      const devices = own.filter(isEndDevice);
      const priority1 = Math.min(255, Math.max(...meant.map(({ quality }) => quality.priority1)) + 1);
      setClocks(model, edits, devices, { slaveOnly: true, priority1: 255 });
      for (const one of own.filter((other) => !devices.includes(other)))
        setClocks(model, edits, [one], {
          clockClass: 248,
          priority1: Math.max(one.quality.priority1, priority1),
        });
      return likely(edits);
    }
    case 'unheard':
      return peopleDecide('how the network of the grandmasters gets to these clocks');
    case 'no port':
      return peopleDecide('which of its interfaces speaks PTP');
    case 'nobody meant':
      return peopleDecide('which clock is to lead the domain');
  }
}
