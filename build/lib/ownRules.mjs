// The linter's rules that are of this project alone. `.oxlintrc.json` says where each holds.

const digits = /^(toFixed|toPrecision|toExponential|toLocaleString)$/;

/** A rule that says the same of every node that it finds. */
const rule = (message, visitor) => ({
  create: (context) => visitor((node) => context.report({ node, message })),
});

/** A number with a decimal point between words: `about 0.61 for`, `than 1.5 to`. */
const decimalInWords =
  /(?:[a-z]{2,}.*[ (]|^)[0-9]+\.[0-9]+(?= [a-zµ°%])|[a-z]{2,}.*[ (][0-9]+\.[0-9]+(?=[,;).]?$|[,;.] )/;
const hasDecimal = (text) => !/[{}<>]/.test(text) && decimalInWords.test(text);
/** What follows a figure in a sentence: a unit that has another where people measure in inches. */
const unitAfter = /^ (?:mm|cm|m|m²|mL|L|L\/min|kg|kg\/m³|mm\/m|°C|°F|ft|lb|gal|gal\/min)(?![\w/])/;

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
    'no-decimal-in-words': rule(
      'A number in a sentence is said by renderer/words, so that its decimal sign is the person’s.',
      (report) => ({
        Literal(node) {
          if (typeof node.value === 'string' && hasDecimal(node.value)) report(node);
        },
        TemplateElement(node) {
          if (hasDecimal(node.value.raw)) report(node);
        },
        JSXText(node) {
          if (hasDecimal(node.value)) report(node);
        },
      }),
    ),
    'no-unit-in-words': rule(
      'A quantity is said by say of renderer/words, so that its unit is the person’s.',
      (report) => ({
        TemplateLiteral({ quasis }) {
          // In the path of a drawing L is no litre, and a figure comes behind it.
          for (const part of quasis.slice(1))
            if (unitAfter.test(part.value.raw) && (part.tail || part.value.raw !== ' L'))
              report(part);
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
    'no-literal-spread': rule(
      'What is written as an object is not spread into the object around it.',
      (report) => ({
        SpreadElement(node) {
          if (node.argument.type === 'ObjectExpression') report(node);
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
