export * from './arrange';
