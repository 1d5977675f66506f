import tseslint from 'typescript-eslint';
import reactHooks from 'eslint-plugin-react-hooks';

const pureRooms = [
  'renderer/words/**',
  'renderer/tables/**',
  'renderer/engine/**',
  'renderer/document/**',
  'renderer/derive/**',
  'renderer/print/**',
];

const numbersInWords = {
  selector:
    'MemberExpression[property.name=/^(toFixed|toPrecision|toExponential|toLocaleString)$/]',
  message: 'Numbers are said by renderer/words, so that each reads the same everywhere.',
};

const bareCatch = {
  selector: 'CatchClause[param=null]',
  message: 'A refusal is caught by reasonOf or unlessRefused (renderer/words); a bug goes on.',
};

const deafCatch = {
  selector:
    'CallExpression[callee.property.name="catch"] > ArrowFunctionExpression[params.length=0]',
  message: 'What may fail is caught by unlessTrouble or unlessBrowserTrouble; a bug goes on.',
};

const oneFold = {
  selector: 'JSXOpeningElement[name.name="details"]',
  message: 'What folds away is a Fold (renderer/ui).',
};

export default tseslint.config(
  {
    ignores: [
      'node_modules',
      'out',
      'dist',
      'test-results',
      'playwright-report',
      '**/*.mjs',
      '**/*.cjs',
    ],
  },
  ...tseslint.configs.strict,
  {
    rules: {
      '@typescript-eslint/no-explicit-any': 'error',
      '@typescript-eslint/no-non-null-assertion': 'error',
      '@typescript-eslint/consistent-type-imports': 'error',
      '@typescript-eslint/no-unused-vars': [
        'error',
        { argsIgnorePattern: '^_', ignoreRestSiblings: true },
      ],
      eqeqeq: ['error', 'always'],
      'no-console': 'error',
    },
  },
  {
    files: pureRooms,
    rules: {
      'no-restricted-globals': [
        'error',
        {
          name: 'Date',
          message: 'Time is passed in, so that the same input gives the same output.',
        },
        { name: 'window', message: 'This room runs without a browser.' },
        { name: 'document', message: 'This room runs without a browser.' },
        { name: 'process', message: 'This room runs without Node.' },
      ],
      'no-restricted-properties': [
        'error',
        {
          object: 'Math',
          property: 'random',
          message: 'Random numbers come from a seeded stream (engine/trial/stream.ts).',
        },
      ],
    },
  },
  {
    files: ['renderer/**/*.tsx', 'renderer/**/*.ts'],
    plugins: { 'react-hooks': reactHooks },
    rules: {
      'react-hooks/rules-of-hooks': 'error',
      'react-hooks/exhaustive-deps': 'error',
    },
  },
  {
    // The words room says numbers. Hashes of the plan are made of digits that no person reads, and
    // a file's time is told in the form of the computer's locale.
    files: ['renderer/**', 'electron/**'],
    ignores: [
      'renderer/words/**',
      'renderer/engine/lamps/stamp.ts',
      'renderer/engine/trial/draw/drawnFrom.ts',
      'renderer/app/files/PlanComparison.tsx',
    ],
    rules: {
      'no-restricted-syntax': ['error', numbersInWords, bareCatch, oneFold],
    },
  },
  {
    // Files and the browser's stores: what is no matter when it fails, is said by its type.
    files: ['electron/**', 'renderer/host/**'],
    rules: { 'no-restricted-syntax': ['error', numbersInWords, bareCatch, deafCatch] },
  },
  {
    files: ['renderer/ui/Fold.tsx'],
    rules: { 'no-restricted-syntax': ['error', numbersInWords, bareCatch] },
  },
  { files: ['electron/batch/**', 'tests/**', 'build/**'], rules: { 'no-console': 'off' } },
);
