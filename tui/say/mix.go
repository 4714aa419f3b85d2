package say

// What to mix: how much of each part makes a bath.
