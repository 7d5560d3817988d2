package weather
import ("testing";"fmt";"math")
func normalsOf(s Series) Normals {
 var n Normals
 suns := sunHours(s)
 var ex [12]float64
 for i,sp := range suns { ex[s.HourStart(i).Month()-1]+=extraLevelWM2(sp)/1e3 }
 n.MeanC = make([]float64,12)
 for m, x := range s.Months() {
  n.MeanLowC[m]=x.MeanLowC; n.MeanHighC[m]=x.MeanHighC; n.MeanC[m]=x.MeanC; n.Clearness[m]=math.Min(0.75,x.GlobalKWhM2/ex[m]); n.WindMS[m]=x.WindMS
  n.WetDays[m]=8; n.PrecipMM[m]=40
 }
 n.YearLowestKnown=true; n.YearLowestC=yearFigures(s)[0]
 return n
}
func TestZZ(t *testing.T){
 for _,f := range []string{"725650TYA.CSV.gz","726580TYA.CSV.gz","724620TYA.CSV.gz","726170TYA.CSV.gz","727796TYA.CSV.gz"} {
 s,_ := Open("/work/shared/reference/weather/"+f, ReadOptions{})
 s,_ = Complete(s,Place{})
 n := normalsOf(s)
 _,c,_ := s.Coldest(72)
 fig := yearFigures(s)
 fmt.Println(f,"real: coldest72",c,"dull",s.LongestDullRun(0.25), fig, "DH0", s.DegreeHoursBelow(-10))
 for seed := range uint64(6) {
  g,err := Typical(n,s.Place,seed)
  if err!=nil {fmt.Println(err);break}
  _,c,_ := g.Coldest(72)
  fmt.Println("  made", c, g.LongestDullRun(0.25).Days, yearFigures(g), g.DegreeHoursBelow(-10))
  if seed==0 { for _,x := range g.Notes { if x.Kind==Made {fmt.Println(x) }}}
 }}
}
