import { applyCommand } from '../../renderer/document/apply';
import type { Command } from '../../renderer/document/command';
import type { Plan } from '../../shared-types/plan';

/** The plan after a command that must be carried out. */
export function run<Args>(plan: Plan, command: Command<Args>, args: Args): Plan {
  const outcome = applyCommand(plan, command, args);
  if (!outcome.ok) throw new Error(`${command.name} was refused: ${outcome.reason}`);
  return outcome.plan;
}

/** Why a command is refused; `done` where it is not. */
export function refusal<Args>(plan: Plan, command: Command<Args>, args: Args): string {
  const outcome = applyCommand(plan, command, args);
  return outcome.ok ? 'done' : outcome.reason;
}

export function label<Args>(plan: Plan, command: Command<Args>, args: Args): string {
  return command.label(args, plan);
}
