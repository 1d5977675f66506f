import { join } from 'node:path';
import { everythingOf } from '../../../renderer/document/everything';
import { readPlanFile } from '../inputs';
import { refuseFolder, writeFolder } from '../output';
import type { Verb } from '../verb';

export const exportVerb: Verb = {
  name: 'export',
  gives:
    'All that a plan holds in open formats, in DIR: the plan (JSON); of all runs the records, what their columns mean and their history; meter readings, incidents with their photos, what was delivered (CSV, JPEG).',
  takes: ['PLAN'],
  options: { out: { value: 'DIR', needed: true } },
  async run(args) {
    const plan = await readPlanFile(args.positional('PLAN'));
    const folder = args.needed('out');
    await refuseFolder({ option: 'out', path: folder });
    const contents = everythingOf(plan);
    await writeFolder({ option: 'out', path: folder }, contents, args);
    return { files: [...contents.keys()].map((name) => join(folder, name)) };
  },
};
