package lists_test

import (
	"slices"
	"strconv"
	"testing"

	"faultwright/faulttree/lists"
)

func TestLists(t *testing.T) {
	numbers := []int{3, 8, 5, 2}
	even := func(n int) bool { return n%2 == 0 }
	if got := lists.Each(numbers, strconv.Itoa); !slices.Equal(got, []string{"3", "8", "5", "2"}) {
		t.Errorf("each number in words is %q", got)
	}
	if n, sum := lists.Count(numbers, even), lists.Sum(numbers, func(n int) int { return 2 * n }); n != 2 || sum != 36 {
		t.Errorf("%d numbers are even, and twice the sum is %d", n, sum)
	}
	if got := lists.With(lists.With(numbers, 5), 7); !slices.Equal(got, []int{3, 8, 5, 2, 7}) {
		t.Errorf("with 5 and 7 the numbers are %v", got)
	}
	if got := lists.Where(numbers, even); !slices.Equal(got, []int{8, 2}) {
		t.Errorf("the even numbers are %v", got)
	}
	if got, ok := lists.Find(numbers, even); got != 8 || !ok {
		t.Errorf("the first even number is %d, %v", got, ok)
	}
	if got, ok := lists.Find([]int{3, 5}, even); got != 0 || ok {
		t.Errorf("among odd numbers %d was found, %v", got, ok)
	}
	if lists.Each([]int{}, strconv.Itoa) != nil || lists.Where([]int{3}, even) != nil {
		t.Error("of nothing there is an empty list; expected none, which JSON and templates tell apart")
	}
}
