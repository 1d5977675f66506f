import { describe, expect, it } from 'vitest';
import { readPlan, sayProblem } from '../../../renderer/document/open';
import { findJsonExcess } from '../../../renderer/document/open/jsonExcess';
import { parseDelimited } from '../../../renderer/tables';

const pad = ' '.repeat(1_000_000);

describe('a text built to exhaust its reader', () => {
  it('is refused before it is read', () => {
    const deep = readPlan(`${'['.repeat(1_100_000)}`);
    expect(deep.ok ? '' : sayProblem(deep.problem)).toContain('more than 32 levels of brackets');
    expect(findJsonExcess(`[${'1,'.repeat(8_000_001)}1]`)).toBe('more than 8 million values');
    expect(parseDelimited(','.repeat(8_000_001))).toMatchObject({ ok: false });
    expect(parseDelimited('1\n'.repeat(1_000_001))).toMatchObject({ ok: false });
  });

  it('is none where brackets and commas stand in words', () => {
    const words = `"${'[,'.repeat(40)}\\\\", "\\"${'{'.repeat(40)}"`;
    expect(findJsonExcess(`${pad}[${words}]`)).toBeNull();
    expect(findJsonExcess(`${pad}"never ended ${'['.repeat(40)}`)).toBeNull();
    expect(findJsonExcess(pad + '['.repeat(32) + ']'.repeat(32))).toBeNull();
    expect(findJsonExcess(pad + '['.repeat(33) + ']'.repeat(33))).not.toBeNull();
    expect(findJsonExcess(pad + '[]'.repeat(1000))).toBeNull();
  });
});
