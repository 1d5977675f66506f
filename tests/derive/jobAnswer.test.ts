import { describe, expect, it } from 'vitest';
import { answerOf, resultOf } from '../../renderer/derive/jobAnswer';
import { endOf } from '../../renderer/store/jobsContext';
import { Refusal } from '../../renderer/words';

/** As the worker's answer comes to the window: as a copy, without classes. */
const across = async (work: () => unknown) => resultOf(structuredClone(await answerOf(work)));

describe('what becomes of long work', () => {
  it('brings the result, at once or later', async () => {
    expect(await across(() => [1, 2])).toEqual([1, 2]);
    expect(await across(() => Promise.resolve([1, 2]))).toEqual([1, 2]);
  });

  it('says why it was refused', async () => {
    const refuse = () => {
      throw new Refusal('No lamp hangs here.');
    };
    await expect(across(refuse)).rejects.toThrow(Refusal);
    expect(endOf(new Refusal('No lamp hangs here.'))).toEqual({ problem: 'No lamp hangs here.' });
  });

  it('never shows a mistake of the program as a refusal', async () => {
    for (const mistake of [new TypeError('no lamp'), new Error('no lamp')]) {
      const fail = () => {
        throw mistake;
      };
      await expect(across(fail)).rejects.toThrow(mistake);
      expect(endOf(mistake)).toEqual({ fault: mistake });
    }
  });
});
