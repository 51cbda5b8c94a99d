"""Fits the sizes of the doubts (DoubtSizes.cs) to errors seen on made-up soles.

Usage: fit_doubts.py LINES.txt, where LINES.txt is what `scenes FROM TO dabs` and `scenes FROM TO traced` print. Needs NumPy and SciPy.
"""
import sys

import numpy as np
from scipy.optimize import minimize
from scipy.stats import t as T
rows=[]
for l in open(sys.argv[1]):
    if 'error=' not in l: continue
    w=l.split(); d=dict(p.split('=') for p in w[2:] if '=' in p and not p.startswith('kind'))
    rows.append((w[0],{k:float(v) for k,v in d.items() if k!='held'}))
fam=['contact-all','contact-label','contact-block','contact-dab','contact-misfit','floor','label-all','label-block','label-dab','label-misfit']
M=np.array([[r[1].get(f,0) for f in fam] for r in rows])**2
e=np.array([r[1]['error'] for r in rows]); line=np.array([r[1].get('line',0) for r in rows])**2
mode=np.array([r[0]=='dabs' for r in rows])
nu=5
def nll(p):
    u=np.sqrt(M@np.exp(2*p)+line)
    return -(T.logpdf(e/u,nu)-np.log(u)).sum()+((p-before)**2).sum()
# Few soles err in their materials: what an earlier fit, to other networks, found of the families weighs beside them (a factor of 2 is one standard deviation).
before=np.log(np.array([1.002,.245,.614,.715,.026,.008,.529,.378,.834,1.508]))
r=minimize(nll,before,method='L-BFGS-B',bounds=[(-7,2.5)]*10)
k=np.exp(r.x); print(dict(zip(fam,k.round(3))), r.fun)
u=np.sqrt(M@k**2+line); U=T.ppf(.975,nu)*u
for m,nm in ((mode,'dabs'),(~mode,'traced')):
    print(nm,len(e[m]),'err med',np.median(abs(e[m])),'p95',np.percentile(abs(e[m]),95),'max',abs(e[m]).max(),'cover',(abs(e[m])<U[m]).mean(),'U med',np.median(U[m]),'p95',np.percentile(U[m],95),'max',U[m].max())
    z=(e/u)[m]; print('   z sd',z.std(), np.sort(abs(z))[-5:])
    order=np.argsort(-abs(z))[:4]; 
s=np.array([r[1]['share'] for r in rows])
truth=s-e
def cov(f,cap,nu=5):
    at=np.clip(s/100,1e-5,1-1e-5); sc=f*u/100/(at*(1-at)); sc=np.where(sc>cap,cap+0.3*np.log(sc/cap),sc)
    q=T.ppf(.975,nu); mid=np.log(at/(1-at)); lo=100/(1+np.exp(-(mid-q*sc))); hi=100/(1+np.exp(-(mid+q*sc)))
    h=(truth>=lo)&(truth<=hi); W=(hi-lo)/2
    return [ (round(h[m].mean(),3), round(np.median(W[m]),2), round(np.percentile(W[m],95),1)) for m in (mode,~mode)]
for f in (1,1.1,1.2,1.35):
    print(f,cov(f,1.2),cov(f,0.8))
