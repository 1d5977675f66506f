import type { Plan } from '../../shared-types/plan';
import type { Command } from './command';

/** A command with its arguments: what one gesture, key or field does to the plan, in one undo step. */
export type BoundCommand = Command<null>;

export function bind<Args>(command: Command<Args>, args: Args): BoundCommand {
  return {
    name: command.name,
    label: (_, plan) => command.label(args, plan),
    run: (plan) => command.run(plan, args),
  };
}

/** Several commands as one undo step. A later one sees what the earlier ones did. */
export function together(
  label: (plan: Plan) => string,
  commands: readonly BoundCommand[],
): BoundCommand {
  const [only] = commands;
  if (only && commands.length === 1) return only;
  return {
    name: commands[0]?.name ?? 'nothing',
    label: (_, plan) => label(plan),
    run: (plan) => commands.reduce((sum, each) => each.run(sum, null), plan),
  };
}
