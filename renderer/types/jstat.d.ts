// jstat ships no types; declared here is what is used of it.
declare module 'jstat' {
  const jstat: {
    jStat: {
      normal: { inv(p: number, mean: number, sd: number): number };
    };
  };
  export default jstat;
}
