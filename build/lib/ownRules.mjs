// The linter's rules that are of this project alone. `.oxlintrc.json` says where each holds.

const digits = /^(toFixed|toPrecision|toExponential|toLocaleString)$/;

/** A rule that says the same of every node that it finds. */
const rule = (message, visitor) => ({
  create: (context) => visitor((node) => context.report({ node, message })),
});

export default {
  meta: { name: 'own' },
  rules: {
    'numbers-in-words': rule(
      'Numbers are said by renderer/words, so that each reads the same everywhere.',
      (report) => ({
        MemberExpression(node) {
          if (!node.computed && digits.test(node.property.name)) report(node);
        },
      }),
    ),
    'no-bare-catch': rule(
      'A refusal is caught by reasonOf or unlessRefused (renderer/words); a bug goes on.',
      (report) => ({
        CatchClause(node) {
          if (node.param === null) report(node);
        },
      }),
    ),
    'no-deaf-catch': rule(
      'What may fail is caught by unlessTrouble or unlessBrowserTrouble; a bug goes on.',
      (report) => ({
        CallExpression({ callee, arguments: given }) {
          if (callee.type !== 'MemberExpression' || callee.property.name !== 'catch') return;
          for (const one of given)
            if (one.type === 'ArrowFunctionExpression' && one.params.length === 0) report(one);
        },
      }),
    ),
    'one-fold': rule('What folds away is a Fold (renderer/ui).', (report) => ({
      JSXOpeningElement(node) {
        if (node.name.name === 'details') report(node);
      },
    })),
  },
};
